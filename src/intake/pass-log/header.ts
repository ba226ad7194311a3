import { listing, quoted } from "../quotation.ts";
import { folded, nearMiss } from "../suggestion.ts";
import { trimmed } from "./cells.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import type { Vocabulary } from "./vocabulary.ts";

export interface Header {
  /** The record it stands in: the first that is not blank. */
  record: number;
  /** Fields a record must have; blank ones at the end are not counted. */
  width: number;
  /** Field by column name. */
  fields: Map<string, number>;
  /** Columns that nobody declared. */
  extras: { name: string; field: number }[];
}

/**
 * Reads a header. A name that is nearly right is objected to and then taken as what it was meant to be, so that one slip
 * does not bring a hundred others with it.
 */
export function readHeader(
  cells: readonly string[],
  record: number,
  own: readonly string[],
  vocabulary: Vocabulary,
  report: CsvReporter,
): Header {
  const names = cells.map(trimmed);
  while (names.length > 0 && names.at(-1) === "") names.pop();
  report.names = names;
  const known = new Set([...own, ...vocabulary.columns]);
  const present = new Set(names.filter((name) => known.has(name)));
  const header: Header = { record, width: names.length, fields: new Map(), extras: [] };
  const extraNames = new Map<string, number>();
  names.forEach((written, field) => {
    if (written === "") {
      const advice = "Name the column, or remove it.";
      report.error(
        record,
        field,
        "column-unnamed",
        `no name for column ${field + 1}`,
        "a name for each column",
        advice,
      );
      return;
    }
    let name = written;
    if (!known.has(name)) {
      const meant = meantBy(written, known, present, vocabulary);
      if (meant === null) {
        if (extraNames.has(written)) duplicate(written, extraNames.get(written)!, record, field, report);
        else {
          extraNames.set(written, field);
          header.extras.push({ name: written, field });
        }
        return;
      }
      report.error(
        record,
        field,
        "column-misspelt",
        `the column ${quoted(written)}`,
        `one of ${listing([...known].sort(), 40)}, or a name that resembles none of them`,
        `Did you mean ${quoted(meant)}? Correct the header.`,
      );
      name = meant;
    }
    const first = header.fields.get(name);
    if (first !== undefined) duplicate(name, first, record, field, report);
    else header.fields.set(name, field);
  });
  return header;
}

function duplicate(name: string, first: number, record: number, field: number, report: CsvReporter): void {
  report.error(
    record,
    field,
    "column-duplicate",
    `the column ${quoted(name)} again`,
    "each column once",
    `Column ${first + 1} already has this name: rename or remove one of the two.`,
  );
}

function meantBy(
  written: string,
  known: ReadonlySet<string>,
  present: ReadonlySet<string>,
  vocabulary: Vocabulary,
): string | null {
  const word = folded(written);
  for (const name of known) {
    if (folded(name) === word) return name;
  }
  for (const name of vocabulary.withUnit) {
    if (known.has(name) && !present.has(name) && folded(name).startsWith(`${word}_`)) return name;
  }
  return nearMiss(
    written,
    [...known].filter((name) => !present.has(name)),
  );
}

/** Remarks on the columns that nobody declared. */
export function remarkOnExtras(header: Header, what: string, report: CsvReporter): void {
  for (const { name, field } of header.extras) {
    report.warning(
      header.record,
      field,
      "column-undeclared",
      `the column ${quoted(name)}`,
      `a column of the ${what} or a condition of facility.yaml`,
      "It is kept and shown with each pass. To judge by it, declare it under conditions in facility.yaml.",
    );
  }
}
