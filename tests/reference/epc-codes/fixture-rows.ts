import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";

/** The rows of a CSV beside this file, every cell a text. */
export function fixtureRows<T>(name: string): T[] {
  return parse(readFileSync(new URL(name, import.meta.url)), { columns: true });
}
