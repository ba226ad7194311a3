import { quoted } from "../../quotation.ts";

/** A column in running text: its name in quotes, or its number. */
export function shownColumn(name: string | number): string {
  return typeof name === "number" ? `column ${name}` : quoted(name);
}
