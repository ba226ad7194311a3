import type { z } from "zod";
import {
  concessionSchema,
  conditionSchema,
  criterionSchema,
  facilitySchema,
  openPointSchema,
  readPointSchema,
  roundSchema,
  type WrittenConcession,
  type WrittenCondition,
  type WrittenCriterion,
  type WrittenFacility,
  type WrittenOpenPoint,
  type WrittenReadPoint,
  type WrittenRound,
} from "../facility-schema.ts";
import { planSchema, type WrittenPlan } from "../plan-schema.ts";
import type { ProblemList } from "../problem-list.ts";
import { readerLogSchema, type WrittenReaderLog } from "../reader-log-schema.ts";
import { reportFaults, valueAt } from "./schema-faults.ts";
import type { Path, YamlTree } from "./yaml-tree.ts";

/** One well-formed entry of a list, with its place. */
export interface Written<T> {
  value: T;
  path: Path;
}

/**
 * What facility.yaml says, as far as it is well formed: a slip in one entry does not hide what is wrong with the
 * others. Ids are those of all entries, well formed or not, so that nothing is called unknown for another's slip.
 */
export interface WrittenSections {
  tree: YamlTree;
  /** Null where anything is malformed. */
  whole: WrittenFacility | null;
  rounds: Written<WrittenRound>[];
  readPoints: Written<WrittenReadPoint>[];
  conditions: Written<WrittenCondition>[];
  criteria: Written<WrittenCriterion>[];
  concessions: Written<WrittenConcession>[];
  openPoints: Written<WrittenOpenPoint>[];
  readerLogs: Written<WrittenReaderLog>[];
  /** Null where there is none, or where it is malformed. */
  plan: Written<WrittenPlan> | null;
  ids: { rounds: Set<string>; readPoints: Set<string>; columns: Set<string>; criteria: Set<string> };
}

export function writtenSections(tree: YamlTree, file: string, problems: ProblemList): WrittenSections {
  const { value, issues, whole } = parsed(tree);
  reportFaults(issues, tree, file, problems);
  const texts = (section: string, key: string) => {
    const entries = valueAt(value, [section]);
    const found = Array.isArray(entries) ? entries.map((entry) => valueAt(entry, [key])) : [];
    return new Set(found.filter((id): id is string => typeof id === "string"));
  };
  return {
    tree,
    whole,
    rounds: wellFormed(value, "rounds", roundSchema),
    readPoints: wellFormed(value, "read_points", readPointSchema),
    conditions: wellFormed(value, "conditions", conditionSchema),
    criteria: wellFormed(value, "criteria", criterionSchema()),
    concessions: wellFormed(value, "concessions", concessionSchema),
    openPoints: wellFormed(value, "open_points", openPointSchema),
    readerLogs: wellFormed(value, "reader_logs", readerLogSchema),
    plan: wellFormedSection(value, "plan", planSchema),
    ids: {
      rounds: texts("rounds", "id"),
      readPoints: texts("read_points", "id"),
      columns: texts("conditions", "column"),
      criteria: texts("criteria", "id"),
    },
  };
}

function wellFormed<T extends z.ZodType>(root: unknown, section: string, schema: T): Written<z.infer<T>>[] {
  const entries = valueAt(root, [section]);
  if (!Array.isArray(entries)) return [];
  return entries.flatMap((entry, i) => {
    const result = schema.safeParse(entry);
    return result.success ? [{ value: result.data, path: [section, i] }] : [];
  });
}

function wellFormedSection<T extends z.ZodType>(
  root: unknown,
  section: string,
  schema: T,
): Written<z.infer<T>> | null {
  const result = schema.safeParse(valueAt(root, [section]));
  return result.success ? { value: result.data, path: [section] } : null;
}

/** Digits where a text belongs are taken as they were typed: revision 2.0 is "2.0". */
function parsed(tree: YamlTree): {
  value: unknown;
  issues: z.core.$ZodIssue[];
  whole: WrittenFacility | null;
} {
  let value = tree.value;
  const first = facilitySchema().safeParse(value);
  if (first.success) return { value, issues: [], whole: first.data };
  for (const issue of first.error.issues) {
    if (issue.code !== "invalid_type" || issue.expected !== "string") continue;
    const source = tree.sourceAt(issue.path as Path);
    const number = typeof valueAt(value, issue.path as Path) === "number";
    // An exponent is what a spreadsheet leaves of a long code: that one is asked about.
    if (source !== null && number && /^[-+]?[\d.]+$/.test(source))
      value = replaced(value, issue.path as Path, source);
  }
  const second = facilitySchema().safeParse(value);
  return second.success
    ? { value, issues: [], whole: second.data }
    : { value, issues: second.error.issues, whole: null };
}

function replaced(root: unknown, path: Path, text: string): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return text;
  if (Array.isArray(root)) return root.map((entry, i) => (i === step ? replaced(entry, rest, text) : entry));
  const entries = Object.entries(root as object);
  return Object.fromEntries(entries.map(([key, v]) => [key, key === step ? replaced(v, rest, text) : v]));
}
