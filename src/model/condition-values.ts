import { bandName, bandOf } from "./bands.ts";
import type { Condition } from "./facility.ts";
import type { TextColumn } from "./pass-log.ts";

/**
 * A condition column with its values as the report names them: band names where it has bands, else the texts
 * themselves.
 */
export interface NamedColumn {
  /** Every name there is: bands rising, else texts in no particular order. */
  names: string[];
  /** By index of the column's text: index into `names`, -1 where it fits none. */
  nameOfText: Int32Array;
  /** By row: index of the text, -1 for a blank. */
  textOfRow: Int32Array;
}

/** Index into `names` of one row's value; -1 for a blank. */
export function nameIndexOf(column: NamedColumn, row: number): number {
  const text = column.textOfRow[row]!;
  return text === -1 ? -1 : column.nameOfText[text]!;
}

export function nameColumn(column: TextColumn, bands: number[] | null): NamedColumn {
  if (bands === null) {
    return {
      names: column.values,
      nameOfText: Int32Array.from(column.values, (_, index) => index),
      textOfRow: column.index,
    };
  }
  const numbers = column.numbers ?? column.values.map(Number);
  return {
    names: bandNames(bands),
    nameOfText: Int32Array.from(numbers, (number) => bandOf(bands, number)),
    textOfRow: column.index,
  };
}

/** The names of all bands, rising. */
export function bandNames(bands: number[]): string[] {
  return bands.slice(1).map((edge, index) => bandName(bands[index]!, edge));
}

/** The declared condition of a column; a column that a criterion merely names has no bands. */
export function bandsOf(conditions: Condition[], column: string): number[] | null {
  return conditions.find((condition) => condition.column === column)?.bands ?? null;
}
