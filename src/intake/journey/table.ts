import { canonicalCode } from "../../codes/canonical-code.ts";
import { trimmed } from "../csv/cells.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { type DeclaredColumns, type Header, looksLikeHeader, readHeader } from "../pass-log/rows/header.ts";
import { columnMissing, columnUndeclared } from "../problems/csv-file.ts";

/* What runs.csv and sightings.csv have in common. */

/** Nothing of a facility.yaml stands in a file of a journey. */
const nothingDeclared: DeclaredColumns = {
  names: [],
  numeric: new Set(),
  values: new Map(),
  withUnit: new Map(),
  labels: new Map(),
};

/** The header of a file of a journey; null, with the reason reported, where its rows cannot be read. */
export async function journeyHeader(
  sheet: Sheet,
  { own, needed, file }: { own: readonly string[]; needed: readonly string[]; file: string },
): Promise<Header | null> {
  const meanings = { own, declared: nothingDeclared };
  const first = await sheet.header((record) => looksLikeHeader(record, meanings, 2));
  if (first === null) return null;
  const { report } = sheet;
  const header = readHeader(first, meanings, sheet.sample, report);
  for (const { name, field } of header.extras)
    report.at({ record: header.at, field }, columnUndeclared.inJourney({ name, file }));
  const others = header.extras.map(({ name }) => name);
  const missing = needed.filter((column) => !header.fields.has(column));
  for (const name of missing)
    report.at({ record: header.at, field: null }, columnMissing.with({ name, file, others }));
  return missing.length === 0 ? header : null;
}

/** The text of a column in a record; blank where the file has no such column. */
export function cellOf({ fields }: Header, column: string): (record: CsvRecord) => string {
  const field = fields.get(column);
  return field === undefined ? () => "" : ({ cells }) => trimmed(cells[field]!);
}

const mostRemembered = 500_000;

/** Codes as they are compared, by the way they are written. */
export class Codes {
  readonly #known = new Map<string, string>();

  of(text: string): string {
    let code = this.#known.get(text);
    if (code === undefined) {
      const read = canonicalCode(text, "hex");
      code = read.kind === "refused" ? text : read.code;
      if (this.#known.size >= mostRemembered) this.#known.clear();
      this.#known.set(text, code);
    }
    return code;
  }
}
