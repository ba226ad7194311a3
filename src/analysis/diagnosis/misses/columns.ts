import { columnValues } from "../../../model/conditions.ts";
import { byCodePoint } from "../../../model/order.ts";
import type { DiagnosedPoint } from "./candidate.ts";

/** A column that says how rows were walked: a condition, or another one that the logs and facility.yaml name. */
export interface DiagnosedColumn {
  column: string;
  label: string;
  /** Names of the values that were walked, in order. */
  names: string[];
  /** Index into `names`; -1 for a blank. */
  valueIn(row: number): number;
  /** The same of each presented row, in their order. */
  values: Int16Array;
}

/** More values than this are measurements rather than levels. */
const mostValues = 12;

const known = new WeakMap<DiagnosedPoint, DiagnosedColumn[]>();

/** The columns with two to twelve values in what was presented: conditions in the order of facility.yaml, then others by name. */
export function diagnosedColumns(point: DiagnosedPoint): DiagnosedColumn[] {
  const found = known.get(point) ?? foundColumns(point);
  known.set(point, found);
  return found;
}

function foundColumns(point: DiagnosedPoint): DiagnosedColumn[] {
  const { facility, log } = point.walked;
  const declared = facility.conditions.map(({ column }) => column);
  // What a read point reported is an outcome, not a way of walking.
  const reported = new Set(facility.criteria.map(({ observed }) => observed));
  const others = [...log.rows.columns.keys()]
    .filter((column) => !declared.includes(column) && !reported.has(column))
    .sort(byCodePoint);
  return [...declared, ...others].flatMap((column): DiagnosedColumn[] => {
    const texts = log.rows.columns.get(column);
    if (texts === undefined) return [];
    const seen = new Uint8Array(texts.values.length);
    const textOf = new Int32Array(point.presented.length);
    for (let i = 0; i < textOf.length; i += 1) {
      const text = texts.index[point.presented[i]!]!;
      textOf[i] = text;
      if (text !== -1) seen[text] = 1;
    }
    const values = columnValues(facility.conditions, column);
    const nameOfText = texts.values.map((text, i) => (seen[i] === 1 ? values.nameOf(text) : null));
    const names = [...new Set(nameOfText.filter((name) => name !== null))].sort(values.order);
    if (names.length < 2 || names.length > mostValues) return [];
    const numbers = Int16Array.from(nameOfText, (name) => (name === null ? -1 : names.indexOf(name)));
    const own = new Int16Array(textOf.length);
    for (let i = 0; i < own.length; i += 1) own[i] = textOf[i] === -1 ? -1 : numbers[textOf[i]!]!;
    const label = facility.conditions.find((one) => one.column === column)?.label ?? column;
    return [
      {
        column,
        label,
        names,
        values: own,
        valueIn: (row) => {
          const text = texts.index[row]!;
          return text === -1 ? -1 : numbers[text]!;
        },
      },
    ];
  });
}
