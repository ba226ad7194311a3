import { z } from "zod";
import { asFraction } from "../../model/decimal.ts";
import type { FullText } from "../problems/card/problem.ts";
import { didYouMean, quoted, shortened } from "../problems/card/wording.ts";
import { nameOf, type Path, type YamlReport } from "../problems/reports.ts";
import {
  dateInvalid,
  keyMissing,
  keyUnknown,
  valueBlank,
  valueNotAllowed,
  valueOutOfRange,
  valueType,
} from "../problems/yaml.ts";
import type { YamlTree } from "./document.ts";

/* What the shapes of facility.yaml are made of, each part with the sentence that editors and problems show. */

/** Ids, names and the like: digits are accepted as they were typed. */
export const filled = z.string().regex(/\S/);
export const text = (description: string) => filled.meta({ description, digitsToo: true });
export const optional = <T extends z.ZodType>(schema: T, description: string) =>
  schema.nullish().meta({ description });
export const date = (description: string) => z.iso.date().meta({ description });
export const words = (description: string) => optional(filled.meta({ digitsToo: true }), description);
export const day = (description: string) => optional(z.iso.date(), description);
export const scalar = z.union([z.string(), z.number(), z.boolean(), z.null()]);
export const percent = (description: string) => z.number().min(0).max(100).meta({ description });

/** Settings as they were written, those that are filled. */
export function settingTexts(values: Record<string, unknown>): Record<string, string> {
  const filled = Object.entries(values).filter(([, value]) => value !== null);
  return Object.fromEntries(filled.map(([key, value]) => [key, String(value)]));
}

/** One well-formed entry of a list, with its place. */
export interface Entry<T> {
  value: T;
  path: Path;
}

export function valueAt(root: unknown, path: Path): unknown {
  let value: unknown = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

/* What the schema objects to, in words. */

type Issue = z.core.$ZodIssue;
type Node = Record<string, unknown>;

/** What a part of facility.yaml says in words of its own. */
export interface OwnWords {
  /** Numbers whose range has a problem of its own, by their path. */
  ranges: Record<string, { with(words: { found: string; expected: string; advice: string }): FullText }>;
  /** A key that belongs to another kind of entry; null where it belongs to none. */
  unknownKey(key: string, path: Path, entry: unknown): FullText | null;
  /** What to say of a word that is none of those allowed; null where nothing better than the choices can be said. */
  choice?(word: string, path: Path): string | null;
  /** Its name: `facility.yaml` where left out. */
  file?: string;
}

/** Puts what the schema of facility.yaml objects to into words, with the place in the file. */
export class ShapeFaults {
  readonly #tree: YamlTree;
  readonly #schema: Node;
  readonly #own: OwnWords;

  constructor(tree: YamlTree, schema: Node, own: OwnWords) {
    this.#tree = tree;
    this.#schema = schema;
    this.#own = own;
  }

  report(issues: readonly Issue[], report: YamlReport): void {
    for (const issue of issues) {
      const path = issue.path as Path;
      if (issue.code === "unrecognized_keys") {
        for (const key of issue.keys) report.key([...path, key], this.#unknownKey(key, path));
        continue;
      }
      const inner = issue.code === "invalid_union" ? innerIssues(issue) : null;
      if (inner === null) report.value(path, this.#wrongValue(issue));
      else this.report(inner, report);
    }
  }

  #unknownKey(key: string, path: Path): FullText {
    const own = this.#own.unknownKey(key, path, valueAt(this.#tree.value, path));
    if (own !== null) return own;
    const known = this.#shapes(path).flatMap((node) => Object.keys(propertiesOf(node)));
    const where =
      path.length === 0 ? `at the top of ${this.#own.file ?? "facility.yaml"}` : `under ${nameOf(path)}`;
    return keyUnknown.with({ key, where, known: [...new Set(known)] });
  }

  #wrongValue(issue: Issue): FullText {
    const path = issue.path as Path;
    const name = nameOf(path);
    const shapes = this.#shapes(path);
    const choices = choicesOf(issue, shapes);
    const expected = choices === null ? expectation(issue, shapes) : `one of ${choices.join(", ")}`;
    const meaning = this.#meaning(path);
    const value = valueAt(this.#tree.value, path) ?? null;
    if (path.length > 0 && value === null) {
      return this.#tree.isBlank(path)
        ? valueBlank.unfilled({ name, expected, meaning })
        : keyMissing.with({ name, expected, meaning });
    }
    const source = this.#tree.sourceAt(path);
    const advice =
      choices === null
        ? adviceOn(issue, source, this.#tree.isPlain(path))
        : choiceAdvice(source ?? "", choices, this.#own.choice?.(source ?? "", path) ?? null);
    const said = {
      found: `${name}: ${source === null ? kindOf(value) : quoted(source)}`,
      expected,
      advice: [...advice, meaning].join(" "),
    };
    if (choices !== null) return valueNotAllowed.with(said);
    switch (issue.code) {
      case "invalid_type":
      case "invalid_union":
        return valueType.with(said);
      case "invalid_format":
        return issue.format === "date" ? dateInvalid.with(said) : valueBlank.text(said);
      default:
        return (this.#own.ranges[path.join(".")] ?? valueOutOfRange).with(said);
    }
  }

  /** The sentence of the schema on a path, or on the nearest one above it that has one. */
  #meaning(path: Path): string {
    for (let length = path.length; length > 0; length -= 1) {
      // What a key says that tells alternatives apart is the sentence of one of them.
      const described = this.#shapes(path.slice(0, length)).find(
        (node) => typeof node.description === "string" && node.const === undefined,
      );
      if (described !== undefined) return `What it means: ${described.description}`;
    }
    return "See the comments that `proofwalk new` writes into facility.yaml.";
  }

  /** What the schema says about a path: several shapes where it allows several. */
  #shapes(path: Path): Node[] {
    let nodes = alternativesOf(this.#schema, this.#tree.value);
    path.forEach((step, i) => {
      const value = valueAt(this.#tree.value, path.slice(0, i + 1));
      nodes = nodes.flatMap((node) => {
        const properties = propertiesOf(node);
        const named = Object.hasOwn(properties, step) ? properties[step] : undefined;
        const next = typeof step === "number" ? node.items : (named ?? node.additionalProperties);
        return typeof next === "object" && next !== null ? alternativesOf(next as Node, value) : [];
      });
    });
    return nodes;
  }
}

function propertiesOf(node: Node): Record<string, Node> {
  return (node.properties as Record<string, Node> | undefined) ?? {};
}

/** A shape with its alternatives; of those that a key tells apart, the one that the value names, or all. */
function alternativesOf(node: Node, value: unknown): Node[] {
  const alternatives = ((node.anyOf ?? node.oneOf) as Node[] | undefined) ?? [];
  const isNamed = (alternative: Node) =>
    Object.entries(propertiesOf(alternative)).some(
      ([key, { const: name }]) => name !== undefined && name === valueAt(value, [key]),
    );
  const named = alternatives.filter(isNamed);
  const meant = named.length > 0 ? named : alternatives;
  return [node, ...meant.flatMap((alternative) => alternativesOf(alternative, value))];
}

/** The values that are allowed where a value must be one of a few; null otherwise. */
function choicesOf(issue: Issue, shapes: Node[]): string[] | null {
  if (issue.code === "invalid_value") return issue.values.map(String);
  // A key that tells alternatives apart: none of them has its value.
  const isDiscriminator = issue.code === "invalid_union" && issue.errors.length === 0;
  return isDiscriminator ? shapes.map((shape) => String(shape.const)) : null;
}

/** The issues of the alternative that was meant; null where none of the alternatives is of the value's kind. */
function innerIssues(issue: z.core.$ZodIssueInvalidUnion): Issue[] | null {
  const meant = issue.errors.find(
    (errors) => !errors.some((error) => error.path.length === 0 && error.code === "invalid_type"),
  );
  return meant?.map((error) => ({ ...error, path: [...issue.path, ...error.path] }) as Issue) ?? null;
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
      if (issue.expected === "boolean") return "true or false";
      if (issue.expected === "array") return "a list";
      if (issue.expected === "object" || issue.expected === "record") return "a set of keys with values";
      return issue.expected;
    case "invalid_format":
      return issue.format === "date" ? "a day of the calendar, YYYY-MM-DD" : "a text that is not blank";
    case "too_small":
    case "too_big":
      if (issue.origin === "array")
        return `a list of at least ${issue.code === "too_small" ? issue.minimum : issue.maximum}`;
      if (issue.origin === "string")
        return textLength(Number(issue.code === "too_small" ? issue.minimum : issue.maximum));
      return rangeOf(shapes);
    case "invalid_union":
      return alternatives(shapes);
    default:
      return "a value that fits";
  }
}

/** Texts are held to a length of their own, never to a range of lengths. */
function textLength(characters: number): string {
  return characters === 1 ? "a single character" : `a text of ${characters} characters`;
}

/** `a number above 0.5 and below 1`, as the schema states it. */
function rangeOf(shapes: Node[]): string {
  const bound = (key: string) =>
    shapes.map((shape) => shape[key]).find((value): value is number => typeof value === "number");
  const ends = [
    ["minimum", "of at least"],
    ["exclusiveMinimum", "above"],
    ["maximum", "of at most"],
    ["exclusiveMaximum", "below"],
  ] as const;
  const said = ends.flatMap(([key, phrase]) => {
    const value = bound(key);
    // Whole numbers have the largest safe integers as their bounds.
    return value === undefined || Math.abs(value) >= Number.MAX_SAFE_INTEGER ? [] : [`${phrase} ${value}`];
  });
  return `a number ${said.join(" and ")}`;
}

/** What people write for a boolean, and YAML does not take for one. */
const yesOrNo = new Map([
  ...["yes", "y", "on", "1"].map((word) => [word, "true"] as const),
  ...["no", "n", "off", "0"].map((word) => [word, "false"] as const),
]);

/** Sentences on what to write instead; none where nothing better than the meaning of the key can be said. */
function adviceOn(issue: Issue, source: string | null, isPlain: boolean): string[] {
  if (source === null) return [];
  switch (issue.code) {
    case "invalid_type": {
      const share = /^(\d+(?:[.,]\d+)?)\s*%$/.exec(source.trim());
      if (share !== null)
        return [`Write it as a fraction, ${asFraction(Number(share[1]!.replace(",", ".")))}.`];
      if (issue.expected === "boolean") {
        const meant = yesOrNo.get(source.trim().toLowerCase());
        return meant === undefined ? [] : [`Write ${meant}.`];
      }
      if (issue.expected === "array") return [`Put it in square brackets: [${shortened(source)}].`];
      if (issue.expected === "string" && isPlain) return [`Put it in quotes: "${shortened(source)}".`];
      if (/^-?\d+,\d+$/.test(source)) return [`Write a decimal point: ${source.replace(",", ".")}.`];
      return !isPlain && Number.isFinite(Number(source)) && source.trim() !== ""
        ? ["Write it without quotes."]
        : [];
    }
    case "invalid_format":
      return issue.format === "date" ? [dateAdvice(source)] : [];
    case "too_big":
      return issue.maximum === 1 && Number(source) < 100 ? [`Write ${asFraction(Number(source))}.`] : [];
    default:
      return [];
  }
}

/** A date in another order is written anew where only one day can be meant. */
function dateAdvice(source: string): string {
  const parts = /^\s*(\d{1,2})[./-](\d{1,2})[./-](\d{4})\s*$/.exec(source);
  const [first, second] = [Number(parts?.[1]), Number(parts?.[2])];
  const [day, month] = first > 12 || first === second ? [first, second] : [second, first];
  if (parts === null || month < 1 || month > 12 || (day <= 12 && first !== second) || day > 31)
    return "Write the date as year-month-day, for example 2026-05-22.";
  const two = (number: number) => String(number).padStart(2, "0");
  return `Write ${parts[3]}-${two(month)}-${two(day)}.`;
}

/** Words that facility.yaml once allowed, and what they are called now. */
const newNames = new Map([["exact-clustered", "beta-binomial"]]);

function choiceAdvice(source: string, choices: string[], own: string | null): string[] {
  if (own !== null) return [own];
  const newName = newNames.get(source);
  if (newName !== undefined) return [`Write ${newName}, its name since version 0.2.0.`];
  const near = didYouMean(source, choices).trim();
  return near === "" ? [] : [near];
}

function kindOf(value: unknown): string {
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : "a list";
  return "a set of keys";
}
