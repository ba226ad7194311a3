import type { z } from "zod";
import { facilityJsonSchema } from "../facility-schema.ts";
import type { Finding, ProblemList } from "../problem-list.ts";
import { quoted, shortened } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import type { Path, YamlTree } from "./yaml-tree.ts";

type Issue = z.core.$ZodIssue;
type Node = Record<string, unknown>;

/** Puts what the schema objects to into words, with the place in the file. */
export function reportFaults(
  issues: readonly Issue[],
  tree: YamlTree,
  file: string,
  problems: ProblemList,
): void {
  if (issues.length === 0) return;
  const schema = facilityJsonSchema();
  for (const issue of issues) {
    const path = issue.path as Path;
    if (issue.code === "unrecognized_keys") {
      for (const key of issue.keys) {
        problems.add(file, tree.keyAt([...path, key]), unknownKey(key, path, schema));
      }
    } else if (issue.code === "invalid_union") {
      const branch = issue.errors.find(
        (errors) => !errors.some((e) => e.path.length === 0 && e.code === "invalid_type"),
      );
      if (branch === undefined) problems.add(file, tree.valueAt(path), wrongValue(issue, path, tree, schema));
      else {
        const inner = branch.map((e) => ({ ...e, path: [...path, ...e.path] })) as Issue[];
        reportFaults(inner, tree, file, problems);
      }
    } else {
      problems.add(file, tree.valueAt(path), wrongValue(issue, path, tree, schema));
    }
  }
}

function unknownKey(key: string, path: Path, schema: Node): Finding {
  const known = schemasAt(schema, path).flatMap((node) =>
    Object.keys((node.properties as Node | undefined) ?? {}),
  );
  const where = path.length === 0 ? "at the top of facility.yaml" : `under ${nameOf(path)}`;
  return {
    severity: "error",
    code: "key-unknown",
    found: `the key ${quoted(key)} ${where}`,
    expected: `one of ${known.join(", ")}`,
    advice: /^\d+$/.test(key)
      ? "Is this the rest of a number? Decimals follow a point, 0.99 say."
      : `${didYouMean(key, known)}Correct the key or remove it.`,
  };
}

function wrongValue(issue: Issue, path: Path, tree: YamlTree, schema: Node): Finding {
  const name = nameOf(path);
  const about = describedAs(schema, path);
  if (isMissing(tree.value, path)) {
    const blank = tree.isBlank(path);
    return {
      severity: "error",
      code: blank ? "value-blank" : "key-missing",
      found: blank ? `${name} with nothing behind it` : `no ${name}`,
      expected: expectation(issue, schemasAt(schema, path)),
      advice: `${blank ? "Fill it in" : "Add it"}: ${about}`,
    };
  }
  const source = tree.sourceAt(path);
  return {
    severity: "error",
    code: codeOf(issue),
    found: `${name}: ${source === null ? kindOf(valueAt(tree.value, path)) : quoted(source)}`,
    expected: expectation(issue, schemasAt(schema, path)),
    advice: adviceOn(issue, source, about, tree.isPlain(path)),
  };
}

function codeOf(issue: Issue): string {
  if (issue.code === "invalid_type" || issue.code === "invalid_union") return "value-type";
  if (issue.code === "invalid_format") return issue.format === "date" ? "date-invalid" : "value-blank";
  if (issue.code === "invalid_value") return "value-not-allowed";
  return "value-out-of-range";
}

/** Texts are held to a length of their own, never to a range of lengths. */
function textLength(characters: number): string {
  return characters === 1 ? "a single character" : `a text of ${characters} characters`;
}

const kinds: Record<string, string> = {
  string: "a text",
  number: "a number",
  integer: "a whole number",
  boolean: "yes or no",
  array: "a list of them",
};

/** What a value may be that may be of several kinds: "a text or a whole number". */
function alternatives(shapes: Node[]): string {
  const named = shapes.flatMap((shape) => {
    const kind = kinds[String(shape.type)];
    if (kind !== undefined) return [kind];
    return shape.properties === undefined ? [] : [`{ ${Object.keys(shape.properties as Node).join(", ")} }`];
  });
  const each = [...new Set(named)];
  return each.length < 2
    ? (each[0] ?? "a value that fits")
    : `${each.slice(0, -1).join(", ")} or ${each.at(-1)}`;
}

function expectation(issue: Issue, shapes: Node[]): string {
  switch (issue.code) {
    case "invalid_type":
      if (issue.expected === "string") return "a text";
      if (issue.expected === "number") return "a number";
      if (issue.expected === "int") return "a whole number";
      if (issue.expected === "array") return "a list";
      if (issue.expected === "object" || issue.expected === "record") return "a set of keys with values";
      return issue.expected;
    case "invalid_format":
      return issue.format === "date" ? "a day of the calendar, YYYY-MM-DD" : "a text that is not blank";
    case "invalid_value":
      return `one of ${issue.values.join(", ")}`;
    case "too_small":
      if (issue.origin === "array") return `a list of at least ${issue.minimum}`;
      if (issue.origin === "string") return textLength(Number(issue.minimum));
      return `a number ${issue.inclusive ? "of at least" : "above"} ${issue.minimum}`;
    case "too_big":
      if (issue.origin === "string") return textLength(Number(issue.maximum));
      return `a number of at most ${issue.maximum}`;
    case "invalid_union":
      return alternatives(shapes);
    default:
      return "a value that fits";
  }
}

/** Words that facility.yaml once allowed, and what they are called now. */
const newNames = new Map([["exact-clustered", "beta-binomial"]]);

function adviceOn(issue: Issue, source: string | null, about: string, plain: boolean): string {
  if (source !== null && issue.code === "invalid_type") {
    const share = /^(\d+(?:[.,]\d+)?)\s*%$/.exec(source.trim());
    if (share !== null) return `Write it as a fraction, ${asFraction(share[1]!)}. ${about}`;
    if (issue.expected === "array") return `Put it in square brackets: [${shortened(source)}]. ${about}`;
    if (issue.expected === "string" && plain) return `Put it in quotes: "${shortened(source)}". ${about}`;
    if (/^-?\d+,\d+$/.test(source)) return `Write a decimal point: ${source.replace(",", ".")}. ${about}`;
    if (!plain && Number.isFinite(Number(source)) && source.trim() !== "")
      return `Write it without quotes. ${about}`;
  }
  if (source !== null && issue.code === "invalid_format" && issue.format === "date") {
    return `Write year, month and day, 2026-05-22 say. ${about}`;
  }
  if (source !== null && issue.code === "invalid_value") {
    const newName = newNames.get(source);
    if (newName !== undefined) return `Write ${newName}, its name since version 0.2.0. ${about}`;
    const allowed = issue.values.map(String);
    return `${didYouMean(source, allowed)}${about}`;
  }
  return about;
}

/** A percentage as a fraction, in decimal digits and without the dust of binary arithmetic. */
export function asFraction(percentage: string): string {
  return String(Number((Number(percentage.replace(",", ".")) / 100).toPrecision(12)));
}

function isMissing(root: unknown, path: Path): boolean {
  return path.length > 0 && (valueAt(root, path) ?? null) === null;
}

export function valueAt(root: unknown, path: Path): unknown {
  let value: unknown = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

function kindOf(value: unknown): string {
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : "a list";
  return "a set of keys";
}

/** The key a person looks for: read_points[2].at.x is "x" of entry 3. */
export function nameOf(path: Path): string {
  const keys = path.filter((step) => typeof step === "string");
  const last = path.at(-1);
  const key = quoted(String(keys.at(-1) ?? "facility.yaml"));
  return typeof last === "number" ? `entry ${last + 1} of ${key}` : key;
}

function describedAs(schema: Node, path: Path): string {
  for (let length = path.length; length > 0; length -= 1) {
    const described = schemasAt(schema, path.slice(0, length)).find(
      (node) => typeof node.description === "string",
    );
    if (described !== undefined) return described.description as string;
  }
  return "See the comments that `proofwalk new` writes into facility.yaml.";
}

/** What the schema says about a path: several shapes where it allows several. */
function schemasAt(schema: Node, path: Path): Node[] {
  let nodes = shapesOf(schema);
  for (const step of path) {
    nodes = nodes.flatMap((node) => {
      const properties = node.properties as Record<string, Node> | undefined;
      const named =
        properties !== undefined && Object.hasOwn(properties, step) ? properties[step] : undefined;
      const next = typeof step === "number" ? node.items : (named ?? node.additionalProperties);
      return typeof next === "object" && next !== null ? shapesOf(next as Node) : [];
    });
  }
  return nodes;
}

function shapesOf(node: Node): Node[] {
  const alternatives = node.anyOf as Node[] | undefined;
  return alternatives === undefined ? [node] : [node, ...alternatives.flatMap(shapesOf)];
}
