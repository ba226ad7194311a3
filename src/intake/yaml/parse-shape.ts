import type { z } from "zod";
import type { Path, YamlReport } from "../problems/reports.ts";
import type { YamlTree } from "./document.ts";
import { type Entry, type OwnWords, ShapeFaults, valueAt } from "./shape.ts";

/** Compiling a schema costs more than it saves where it checks a single file. */
const once = { jitless: true };

export function wellFormed<T extends z.ZodType>(value: unknown, path: Path, schema: T): Entry<z.infer<T>>[] {
  const result = schema.safeParse(value, once);
  return result.success ? [{ value: result.data, path }] : [];
}

/**
 * What a document says by its schema; null, with the faults reported, where it does not fit. Digits where a text belongs are taken as they
 * were typed: revision 2.0 is "2.0".
 */
export function parseShape<T extends z.ZodType>(
  tree: YamlTree,
  schema: T,
  { json, own, report }: { json: () => Record<string, unknown>; own: OwnWords; report: YamlReport },
): { value: unknown; whole: z.infer<T> | null } {
  let value = tree.value;
  const first = schema.safeParse(value, once);
  if (first.success) return { value, whole: first.data };
  for (const issue of first.error.issues) {
    if (issue.code !== "invalid_type" || issue.expected !== "string") continue;
    const path = issue.path as Path;
    const source = tree.sourceAt(path);
    const isNumber = typeof valueAt(value, path) === "number";
    // An exponent is what a spreadsheet leaves of a long code: that one is asked about.
    if (source !== null && isNumber && /^[-+]?[\d.]+$/.test(source)) value = replaced(value, path, source);
  }
  const second = schema.safeParse(value, once);
  if (second.success) return { value, whole: second.data };
  new ShapeFaults(tree, json(), own).report(second.error.issues, report);
  return { value, whole: null };
}

function replaced(root: unknown, path: Path, text: string): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return text;
  if (Array.isArray(root)) return root.map((entry, i) => (i === step ? replaced(entry, rest, text) : entry));
  const pairs = Object.entries(root as object);
  return Object.fromEntries(pairs.map(([key, v]) => [key, key === step ? replaced(v, rest, text) : v]));
}
