import { isPlaceholder } from "../../model/placeholders.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import { placeholderUnchanged, roleIsOrganisation } from "../problems/yaml.ts";
import { valueAt } from "../yaml/shape.ts";

/* What must not be signed: texts that `new` wrote and nobody changed, and organisations in place of people. */

const parts: Path[] = [["name"], ["client"], ["address"], ["report", "number"], ["report", "issued"]];

export function checkPlaceholders(root: unknown, report: YamlReport): void {
  const people = signatories(root).flatMap(([path]) =>
    ["name", "role", "organisation"].map((key): Path => [...path, key]),
  );
  for (const path of [...parts, ...people]) {
    const text = valueAt(root, path);
    if (typeof text !== "string" || !isPlaceholder(text)) continue;
    const name = path.filter((step) => typeof step === "string").join(" ");
    report.value(path, placeholderUnchanged.text({ name, text }));
  }
  for (const [path, criterion] of entriesOf(root, "criteria")) {
    const text = valueAt(criterion, ["title"]);
    if (typeof text === "string" && isPlaceholder(text))
      report.value([...path, "title"], placeholderUnchanged.proposal({ name: "criterion", text }));
  }
}

function signatories(root: unknown): [Path, unknown][] {
  return [[["prepared_by"], valueAt(root, ["prepared_by"])], ...entriesOf(root, "witnessed_by")];
}

function entriesOf(root: unknown, section: string): [Path, unknown][] {
  const found = valueAt(root, [section]);
  return Array.isArray(found) ? found.map((entry, i) => [[section, i], entry]) : [];
}

/** A signature is a person's: neither the name nor the role may be that of an organisation. */
export function checkSignatories(root: unknown, report: YamlReport): void {
  const people = signatories(root);
  const organisations = new Map<string, string>();
  for (const name of [
    valueAt(root, ["client"]),
    ...people.map(([, person]) => valueAt(person, ["organisation"])),
  ])
    if (isFilled(name)) organisations.set(folded(name), name);
  for (const [path, person] of people) {
    for (const key of ["name", "role"] as const) {
      const text = valueAt(person, [key]);
      const organisation = isFilled(text) ? organisations.get(folded(text)) : undefined;
      if (organisation !== undefined) report.value([...path, key], roleIsOrganisation[key]({ organisation }));
    }
  }
}

function isFilled(text: unknown): text is string {
  return typeof text === "string" && text.trim() !== "" && !isPlaceholder(text);
}

/** Case, blanks and the stops of abbreviations make no other organisation. */
function folded(name: string): string {
  return name
    .toLowerCase()
    .replace(/[\s.,]+/g, " ")
    .trim();
}
