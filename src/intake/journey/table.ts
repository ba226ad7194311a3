import { canonicalCode } from "../../codes/canonical-code.ts";
import type { Sheet } from "../csv/sheet.ts";
import { columnMissing, columnUndeclared } from "../problems/csv-file.ts";
import { nothingDeclared } from "../tables/declared-columns.ts";
import { type Header, openHeader } from "../tables/header.ts";

/* What runs.csv and sightings.csv have in common. */

/** The header of a file of a journey; null, with the reason reported, where its rows cannot be read. */
export async function journeyHeader(
  sheet: Sheet,
  { own, needed, file }: { own: readonly string[]; needed: readonly string[]; file: string },
): Promise<Header | null> {
  const header = await openHeader(sheet, { own, declared: nothingDeclared });
  if (header === null) return null;
  const { report } = sheet;
  for (const { name, field } of header.extras)
    report.at({ record: header.at, field }, columnUndeclared.inJourney({ name, file }));
  const others = header.extras.map(({ name }) => name);
  const missing = needed.filter((column) => !header.fields.has(column));
  for (const name of missing)
    report.at({ record: header.at, field: null }, columnMissing.with({ name, file, others }));
  return missing.length === 0 ? header : null;
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
