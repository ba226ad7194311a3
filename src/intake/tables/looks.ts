import { fewestEpcDigits } from "../../codes/canonical-code.ts";
import { trimmed } from "../csv/cells.ts";
import type { CsvRecord } from "../csv/records.ts";

/** What the values of a column look like. */
export interface Look {
  /** `times`. */
  values: string;
  /** Columns that hold such values. */
  columns: readonly string[];
  /** The first of them. */
  example: string;
}

const kinds = [
  {
    values: "times",
    columns: ["started_at", "ended_at"],
    shape:
      /^(?:\d{1,4}[-./]\d{1,2}[-./]\d{1,4}[T ,]*)?\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?(?:[ap]\.?m\.?|z|[-+]\d{2}:?\d{2}))?$/i,
  },
  {
    values: "tag codes",
    columns: ["tag", "missed_tags", "stray_tags"],
    shape: new RegExp(`^(?=.*\\d)[0-9a-f]{${fewestEpcDigits},}$`, "i"),
  },
];

/** What the values of a field look like, where all that are filled in look alike. */
export function lookOf(field: number, sample: readonly CsvRecord[]): Look | null {
  const texts = sample.map(({ cells }) => trimmed(cells[field] ?? "")).filter((text) => text !== "");
  const example = texts[0];
  if (example === undefined) return null;
  const kind = kinds.find(({ shape }) => texts.every((text) => shape.test(text)));
  return kind === undefined ? null : { values: kind.values, columns: kind.columns, example };
}
