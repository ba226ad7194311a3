import type { Condition } from "../../model/facility.ts";
import { powerOfTen } from "../../model/number-words.ts";
import { trimmed, withPoint } from "../csv/cells.ts";

/** What the values of a column look like that no form of log has. */
export interface FoundColumn {
  name: string;
  /** The different texts and how often each stands there, the first of them. */
  texts: Map<string, number>;
  hasMoreTexts: boolean;
  filled: number;
  /** Of its numbers, where every filled cell is one. */
  range: { min: number; max: number; isWhole: boolean } | null;
}

const mostTexts = 40;

export function emptyColumn(name: string): FoundColumn {
  return { name, texts: new Map(), hasMoreTexts: false, filled: 0, range: null };
}

/** What two files say of a column of the same name. */
export function mergedColumns(a: FoundColumn, b: FoundColumn): FoundColumn {
  if (a.filled === 0 || b.filled === 0) return { ...(a.filled === 0 ? b : a), name: a.name };
  const texts = new Map(a.texts);
  for (const [text, count] of b.texts) texts.set(text, (texts.get(text) ?? 0) + count);
  const range =
    a.range === null || b.range === null
      ? null
      : {
          min: Math.min(a.range.min, b.range.min),
          max: Math.max(a.range.max, b.range.max),
          isWhole: a.range.isWhole && b.range.isWhole,
        };
  return {
    name: a.name,
    texts,
    hasMoreTexts: a.hasMoreTexts || b.hasMoreTexts,
    filled: a.filled + b.filled,
    range,
  };
}

/** Adds a cell to what is known of its column. */
export function noteCell(column: FoundColumn, cell: string, decimalComma: boolean): void {
  const text = decimalComma ? withPoint(trimmed(cell)) : trimmed(cell);
  if (text === "") return;
  const number = /^[-+]?\d{1,9}(?:\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  const isFirst = column.filled === 0;
  column.filled += 1;
  const count = column.texts.get(text);
  if (count !== undefined || column.texts.size < mostTexts) column.texts.set(text, (count ?? 0) + 1);
  else column.hasMoreTexts = true;
  if (Number.isNaN(number)) column.range = null;
  else if (isFirst) column.range = { min: number, max: number, isWhole: Number.isInteger(number) };
  else if (column.range !== null) {
    const { min, max, isWhole } = column.range;
    column.range = {
      min: Math.min(min, number),
      max: Math.max(max, number),
      isWhole: isWhole && Number.isInteger(number),
    };
  }
}

/** Named values that a finding can go by: few, and each of them come again. */
const mostNames = 12;
const longestName = 30;
const fewestOfAName = 1.5;
/** Numbers that are all different and whole number the rows. */
const fewestNumbered = 8;

/**
 * The condition that a column can be; null where its values are notes, codes, times or running numbers.
 *
 * @param passes how many there are in its files
 */
export function conditionOf(column: FoundColumn, passes: number): Condition | null {
  const { texts, hasMoreTexts, filled, range } = column;
  if (filled === 0) return null;
  const { label, unit } = wordsOf(column.name);
  const isNumbering =
    range?.isWhole === true && texts.size >= fewestNumbered && (hasMoreTexts || texts.size >= passes);
  if (range !== null)
    return isNumbering ? null : { column: column.name, label, unit, bands: bandsOver(range) };
  const names = [...texts.keys()];
  const isNamed =
    !hasMoreTexts &&
    names.length <= mostNames &&
    filled >= fewestOfAName * names.length &&
    names.every(isName);
  return isNamed ? { column: column.name, label, unit, bands: null } : null;
}

function isName(text: string): boolean {
  return text.length <= longestName && !/^[0-9A-F]{12,}$/i.test(text) && !/\d{1,2}:\d{2}/.test(text);
}

const usualBands = 3;

/**
 * Round edges around all values, about three bands.
 *
 * Worked example: speeds from 0.6 to 1.9 give 0.5, 1, 1.5, 2.
 */
export function bandsOver({ min, max }: { min: number; max: number }): number[] {
  const step = roundStep(max > min ? (max - min) / usualBands : Math.max(Math.abs(max), 1));
  const first = Math.floor(min / step + 1e-9);
  const last = Math.max(first + 1, Math.ceil(max / step - 1e-9));
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toFixed(decimals)));
}

/** The next of 1, 2 and 5 times a power of ten. */
function roundStep(rough: number): number {
  const power = powerOfTen(Math.floor(Math.log10(rough)));
  const step = [1, 2, 5, 10].find((one) => one * power >= rough * (1 - 1e-9)) ?? 10;
  return step * power;
}

/** Units that stand at the end of a column's name, and how they are printed. */
const units: Record<string, string> = {
  m_s: "m/s",
  km_h: "km/h",
  kmh: "km/h",
  mph: "mph",
  ft_s: "ft/s",
  m: "m",
  cm: "cm",
  mm: "mm",
  ft: "ft",
  kg: "kg",
  c: "°C",
  dbm: "dBm",
  s: "s",
};

/** `speed_m_s` and `Speed (m/s)` are both Speed, in m/s. */
export function wordsOf(name: string): { label: string; unit: string | null } {
  const bracketed = /^(.+?)\s*[([]\s*([^()[\]]{1,12}?)\s*[)\]]$/.exec(name);
  if (bracketed !== null) return { label: labelOf(bracketed[1]!), unit: bracketed[2]! };
  const word = name.trim().replace(/[\s.-]+/g, "_");
  const ending = Object.keys(units).find((unit) => word.toLowerCase().endsWith(`_${unit}`));
  if (ending === undefined) return { label: labelOf(name), unit: null };
  return { label: labelOf(word.slice(0, -ending.length - 1)), unit: units[ending]! };
}

/** An id as a title: `as-found` is "As found". */
export function labelOf(id: string): string {
  const words = id.replace(/[-_\s]+/g, " ").trim();
  return words === "" ? id : words.charAt(0).toUpperCase() + words.slice(1);
}
