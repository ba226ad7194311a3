import type { Cell, CellValue } from "hucre/xlsx";

/** From here on a number no longer holds every digit that was typed. */
const firstInexact = 1e15;

/**
 * What a cell says, written as a pass log in CSV would have it: times with the year first, numbers with a point and without an
 * exponent, yes and no as TRUE and FALSE. A number that has lost digits is in exponent notation, which is refused as a tag code.
 */
export function cellText(value: CellValue, cell: Cell | undefined): string {
  const format = cell?.style?.numFmt ?? "";
  if (value === null) return "";
  if (value instanceof Date) return dateText(value, format);
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (typeof value === "number") return numberText(value, format);
  return String(value);
}

function numberText(value: number, format: string): string {
  if (Math.abs(value) >= firstInexact) return value.toExponential(14).replace(/\.?0*e\+?/, "E+");
  // As a spreadsheet shows it: 0.1 + 0.2 is 0.3.
  const rounded = Number(value.toPrecision(15));
  const isTiny = rounded !== 0 && Math.abs(rounded) < 1e-6;
  const text = isTiny ? rounded.toFixed(20).replace(/0+$/, "") : String(rounded);
  // A format of zeros shows those in front, and they belong to a code.
  return /^0{2,}$/.test(format) && Number.isInteger(rounded) && rounded >= 0
    ? text.padStart(format.length, "0")
    : text;
}

/** A date cell counts in the facility's zone, as a time without offset does in a CSV file. */
function dateText(date: Date, format: string): string {
  if (Number.isNaN(date.getTime())) return "";
  const stamp = date.toISOString().slice(0, 23).replace("T", " ").replace(".000", "");
  // Texts and conditions in a format are no marks of a date; hours in brackets are.
  const marks = format.replace(/"[^"]*"|\\./g, "").replace(/\[(?![hms]+\])[^\]]*\]/gi, "");
  const hasDay = /[dy]/i.test(marks);
  const hasClock = /[hs]/i.test(marks);
  if (!hasDay && hasClock) return stamp.slice(11);
  const isMidnight = stamp.endsWith(" 00:00:00");
  return hasDay && !hasClock && isMidnight ? stamp.slice(0, 10) : stamp;
}
