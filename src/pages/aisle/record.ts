import { valuesOf } from "../../model/conditions.ts";
import { decimalOf } from "../../model/decimal.ts";
import type { CurrentPass, Fields, LoggedPass, Recorded, StartedPass } from "./pass.ts";
import type { AskedColumn, WalkData } from "./walk-data.ts";

/** What stands in the way of logging a pass, and the field it is about: the checks on logs would refuse it as well. */
export interface Fault {
  field: string;
  text: string;
}

/** Of a pass of which nothing was said yet: walked as planned, nothing missed, and nobody looked for strays. */
export function fieldsFor(pass: StartedPass | CurrentPass, data: WalkData, walkedBy: string): Fields {
  const clockWentBack = "clockWentBack" in pass && pass.clockWentBack === true;
  return {
    missed: [],
    missedCount: 0,
    presented: pass.tagsPerPass,
    strays: "nobody",
    strayCodes: "",
    strayCount: 1,
    conditions: Object.fromEntries(
      pass.columns.map((column) => [column, statedValue(column, pass.conditions[column], data)]),
    ),
    isVoid: false,
    voidReason: "",
    note: clockWentBack ? "The clock of the device went back while the pass ran." : "",
    walkedBy,
  };
}

/**
 * Of a pass after others: what the plan leaves open stays as it was in the last pass at the read point, and whoever looked for strays
 * looks again. Which strays were read is asked anew.
 */
export function fieldsAfter(
  pass: StartedPass | CurrentPass,
  { data, walkedBy, passes }: { data: WalkData; walkedBy: string; passes: LoggedPass[] },
): Fields {
  const fields = fieldsFor(pass, data, walkedBy);
  const last = passes.at(-1);
  if (last !== undefined && last.strays !== null) fields.strays = "none";
  const before = passes.findLast(({ readPoint }) => readPoint === pass.readPoint);
  for (const column of pass.needed) {
    if (pass.conditions[column] === undefined && before !== undefined)
      fields.conditions[column] = before.conditions[column] ?? "";
  }
  return fields;
}

/** A band is planned, but a measured value is logged: it is left open. */
export function statedValue(name: string, planned: string | undefined, { columns }: WalkData): string {
  const numeric = columns.find(({ column }) => column === name)?.numeric ?? false;
  return planned === undefined || (numeric && Number.isNaN(decimalOf(planned))) ? "" : planned;
}

/** Of a pass that was logged, to change it. */
export function fieldsOf(pass: LoggedPass): Fields {
  const { missed, missedCount, presented, strays, conditions, voidReason, note, walkedBy } = pass;
  const heard = strays !== null && (strays.codes.length > 0 || strays.count > 0);
  return {
    missed: missed ?? [],
    missedCount,
    presented,
    strays: strays === null ? "nobody" : heard ? "heard" : "none",
    strayCodes: strays?.codes.join(" ") ?? "",
    strayCount: heard ? strays.count : 1,
    conditions,
    isVoid: voidReason !== "",
    voidReason,
    note,
    walkedBy,
  };
}

export function recordOf(pass: StartedPass, fields: Fields): Recorded {
  const named = pass.manifest !== null;
  const heard = fields.strays === "heard";
  const codes = named && heard ? codesIn(fields.strayCodes) : [];
  const count = !heard ? 0 : named ? codes.length : fields.strayCount;
  return {
    missed: named ? [...fields.missed] : null,
    missedCount: named ? fields.missed.length : fields.missedCount,
    presented: fields.presented,
    strays: fields.strays === "nobody" ? null : { codes, count },
    conditions: Object.fromEntries(
      Object.entries(fields.conditions).map(([column, text]) => [column, tidy(text)]),
    ),
    voidReason: fields.isVoid ? tidy(fields.voidReason) : "",
    note: tidy(fields.note),
    walkedBy: tidy(fields.walkedBy),
  };
}

function codesIn(text: string): string[] {
  const codes = tidy(text).split(/[\s,;|]+/);
  return [...new Set(codes.filter((code) => code !== ""))];
}

/** A control character is never typed but sometimes pasted, and one of them makes the whole log unreadable. */
function tidy(text: string): string {
  return text.replace(/[^\P{Cc}\t\r\n]/gu, "").trim();
}

export function faultsOf(
  pass: Pick<StartedPass, "manifest" | "needed" | "varied">,
  fields: Fields,
  data: WalkData,
): Fault[] {
  const faults: Fault[] = [];
  if (fields.missedCount > fields.presented)
    faults.push({ field: "missed", text: "More tags missed than went through." });
  const strays = fields.strays === "heard" && pass.manifest !== null ? strayFault(fields, data) : null;
  if (strays !== null) faults.push({ field: "strays", text: strays });
  const reason = fields.isVoid ? reasonFault(fields) : null;
  if (reason !== null) faults.push({ field: "void", text: reason });
  for (const [name, text] of Object.entries(fields.conditions)) {
    const column = data.columns.find((one) => one.column === name);
    if (column === undefined) continue;
    const fault = text.trim() === "" ? openFault(pass, fields, column) : valueFault(text.trim(), column);
    if (fault !== null) faults.push({ field: `condition ${name}`, text: `${column.label}: ${fault}` });
  }
  return faults;
}

const answer = /^(?:yes|no|y|n|true|false|0|1|none|nil|n\/a|-+)$/i;
const spreadsheetNumber = /^[-+]?\d+(?:[.,]\d*)?[eE][-+]\d+$|^[-+]?\d+[.,]\d+[eE]\d+$/;
const noCode = /^(?:\d{1,2}|no|nil|none|yes|n\/a|-)$/i;

function reasonFault({ voidReason }: Fields): string | null {
  const reason = tidy(voidReason);
  if (reason === "") return "Say why the pass does not count.";
  return answer.test(reason) ? "Say why the pass does not count, in words." : null;
}

function strayFault({ strayCodes }: Fields, { load }: WalkData): string | null {
  const codes = codesIn(strayCodes);
  if (codes.length === 0) return "Type the codes that were read, or choose that none was read.";
  const presented = codes.find((code) => load?.tags.includes(code));
  if (presented !== undefined) return `${presented} is in the load, so it is not a stray.`;
  const lost = codes.find((code) => spreadsheetNumber.test(code));
  if (lost !== undefined) return `${lost} is a number that lost its digits: type the code in full.`;
  return codes.length === 1 && noCode.test(codes[0]!) ? "Type the codes, not how many there were." : null;
}

function openFault(
  pass: Pick<StartedPass, "manifest" | "needed" | "varied">,
  { isVoid }: Fields,
  { column }: AskedColumn,
): string | null {
  // A load's own list may say how each of its tags sat.
  const loadMaySay = pass.manifest !== null && !pass.varied.includes(column);
  return !isVoid && pass.needed.includes(column) && !loadMaySay ? "say how it was walked." : null;
}

function valueFault(text: string, { bands, numeric }: AskedColumn): string | null {
  if (numeric && !/^[-+]?(?:\d+\.?\d*|\.\d+)$/.test(text)) {
    const comma = /^[-+]?\d*,\d+$/.test(text);
    return comma ? "write a point, not a comma." : "write a number alone.";
  }
  return valuesOf({ bands }).nameOf(text) === null ? `a value from ${bands![0]} to ${bands!.at(-1)}.` : null;
}
