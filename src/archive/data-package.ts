import { createHash } from "node:crypto";

/** A table of a data package: its file, and what its columns hold. */
export interface PackagedTable {
  /** Without extension. */
  name: string;
  holds: string;
  text: string;
  fields: { name: string; title?: string; type: string; unit?: string }[];
}

const textForm =
  "Rates are fractions from 0 to 1 in full precision; an empty cell means that there is no figure. A text that a spreadsheet would take for a formula has an apostrophe in front.";

/**
 * The description of tables by the Frictionless standards (Tabular Data Package and Table Schema, version 1). `unit` is a
 * property of our own, which the standards allow.
 */
export function dataPackageText(about: { name: string; title: string; tables: PackagedTable[] }): string {
  const { name, title, tables } = about;
  const typeOf = typesByColumn(tables);
  const resources = tables.map((table) => ({
    profile: "tabular-data-resource",
    name: table.name.toLowerCase(),
    path: `${table.name}.csv`,
    description: table.holds,
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    bytes: Buffer.byteLength(table.text),
    hash: `sha512:${createHash("sha512").update(table.text).digest("hex")}`,
    dialect: { delimiter: ",", lineTerminator: "\r\n", quoteChar: '"', doubleQuote: true, header: true },
    schema: {
      fields: table.fields.map((field) => ({ ...field, type: typeOf(field) })),
      missingValues: [""],
    },
  }));
  const whole = { profile: "tabular-data-package", name, title, description: textForm, resources };
  return `${JSON.stringify(whole, null, 2)}\n`;
}

/** A column that is empty in one table has the type that columns of its name have in the others, where they agree. */
function typesByColumn(tables: PackagedTable[]): (field: { name: string; type: string }) => string {
  const types = new Map<string, Set<string>>();
  for (const { name, type } of tables.flatMap(({ fields }) => fields))
    if (type !== "any") types.set(name, (types.get(name) ?? new Set()).add(type));
  return ({ name, type }) => {
    const known = [...(types.get(name) ?? [])];
    return type === "any" && known.length === 1 ? known[0]! : type;
  };
}
