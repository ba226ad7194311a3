import {
  type Alias,
  type Document,
  type ErrorCode,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  type Scalar,
  type YAMLError,
} from "yaml";
import type { ProblemList } from "../problems/problem-list.ts";
import type { Path, YamlPlaces } from "../problems/reports.ts";
import { yamlDuplicateKey, yamlStructure, yamlSyntax } from "../problems/yaml.ts";

interface Place {
  line: number;
  column: number;
}

/** A YAML document as plain values, with the place in the file that each of them comes from. */
export interface YamlTree extends YamlPlaces {
  value: unknown;
  /** Whether the scalar is written without quotes. */
  isPlain(path: Path): boolean;
  /** Whether the key is there without a value. */
  isBlank(path: Path): boolean;
}

/** Values that are kept as they were typed (a serial number 0012345): settings, equipment, selected values. */
function isText(path: Path): boolean {
  if (path[0] === "read_points" && path[2] === "equipment") return true;
  if (path[0] === "rounds" && path[2] === "settings") return true;
  if (path[0] === "criteria" && path[2] === "where") {
    return path.length === 4 || typeof path[4] === "number";
  }
  return false;
}

/** Parses YAML; null, with the reasons in the list, where it cannot be parsed. */
export function readYaml(source: string, file: string, problems: ProblemList): YamlTree | null {
  const { document, placeOf } = parsed(source);
  const faults = [...document.errors, ...document.warnings].sort((one, other) => one.pos[0] - other.pos[0]);
  const lines = source.split(/\r\n|\n|\r/);
  const told = new Set<number>();
  let isLost = false;
  for (const fault of faults) {
    const at = faultPlace(fault, placeOf(fault.pos[0]), lines);
    const line = (lines[at.line - 1] ?? "").trim();
    const isOfLine =
      ofOneLine.has(fault.code) || (fault.code === "BLOCK_AS_IMPLICIT_KEY" && colonText(line) !== null);
    // What follows on the same line, or once the structure is lost, follows from the first fault.
    if (told.has(at.line) || (isLost && !isOfLine)) continue;
    told.add(at.line);
    isLost ||= !isOfLine;
    const text =
      fault.code === "DUPLICATE_KEY"
        ? yamlDuplicateKey.with({ line })
        : yamlSyntax.with({ line, reason: reasonOf(fault, at.line - 1, lines) });
    problems.report({ file, ...at }, text);
  }
  const sound = faults.every(({ code }) => code === "DUPLICATE_KEY")
    ? { document, placeOf }
    : withoutColons(source, faults, placeOf);
  if (sound === null) return null;
  try {
    return yamlTree(sound.document, sound.placeOf);
  } catch (error) {
    if (!(error instanceof YamlRefusal)) throw error;
    problems.report(
      { file, ...error.place },
      yamlStructure.with({ found: error.found, advice: error.message }),
    );
    return null;
  }
}

function parsed(source: string): { document: Document; placeOf: (offset: number) => Place } {
  const lines = new LineCounter();
  const document = parseDocument(source, {
    version: "1.2",
    schema: "core",
    lineCounter: lines,
    prettyErrors: false,
    uniqueKeys: true,
  });
  const placeOf = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(line, 1), column: Math.max(col, 1) };
  };
  return { document, placeOf };
}

/** Faults that say nothing about the lines around them. */
const ofOneLine: ReadonlySet<ErrorCode> = new Set([
  "BAD_DQ_ESCAPE",
  "BAD_SCALAR_START",
  "DUPLICATE_KEY",
  "TAG_RESOLVE_FAILED",
]);

/** A line's key and the text after it, where that holds a colon and no quotes; null for any other line. */
function colonText(line: string): { key: string; text: string } | null {
  const [, key, text] = keyAndText.exec(line.trim()) ?? [];
  if (key === undefined || text === undefined || /^["'[{]/.test(text)) return null;
  return /:(?:\s|$)/.test(text) ? { key, text } : null;
}

/**
 * The document with quotes around texts that contain a colon, so that the rest of it can be looked at: what such a line
 * was meant to be is plain. Null where something else is wrong with it.
 */
function withoutColons(
  source: string,
  faults: readonly Pick<YAMLError, "code" | "pos">[],
  placeOf: (offset: number) => Place,
): ReturnType<typeof parsed> | null {
  const colons = faults.filter(({ code }) => code === "BLOCK_AS_IMPLICIT_KEY");
  const numbers = new Set(colons.map(({ pos }) => placeOf(pos[0]).line));
  const lines = source.split("\n").map((line, i) => {
    const found = numbers.has(i + 1) ? colonText(line) : null;
    const indent = /^\s*/.exec(line)![0];
    return found === null ? line : `${indent}${found.key}: ${JSON.stringify(found.text)}`;
  });
  const mended = parsed(lines.join("\n"));
  return mended.document.errors.length + mended.document.warnings.length > 0 ? null : mended;
}

interface Fault {
  code: ErrorCode;
  message: string;
}

/** A quote that is never closed is found at the end of the file, and belongs to the line where it was opened. */
function faultPlace({ code }: Fault, at: Place, lines: readonly string[]): Place {
  if (code !== "MISSING_CHAR" || hasOpenQuote(lines[at.line - 1] ?? "")) return at;
  const opened = (lines[at.line - 1] ?? "").trim() === "" ? lines.findIndex(hasOpenQuote) : -1;
  return opened < 0 ? at : { line: opened + 1, column: lines[opened]!.search(/["']/) + 1 };
}

function hasOpenQuote(line: string): boolean {
  const text = line.replace(/\s#.*$/, "");
  return (text.split('"').length - 1) % 2 === 1 || /[:[{,-]\s*'[^']*$/.test(text);
}

const keyAndText = /^((?:- +)?[\w-]+):\s*(.+)$/;

/** What an error of the parser comes from in practice, and what the line was meant to be where that can be told. */
function reasonOf({ code, message }: Fault, number: number, lines: readonly string[]): string {
  const line = (lines[number] ?? "").trim();
  const closing = /end with a (\S)/.exec(message)?.[1];
  if (closing !== undefined)
    return `A closing ${closing} is missing, or the lines before it are not indented far enough.`;
  const dashed = [line, lines[number - 1] ?? ""].flatMap((each) => /^\s*-(\w.*)$/.exec(each)?.[1] ?? [])[0];
  if (dashed !== undefined) return `Write \`- ${dashed}\`: a space belongs after the dash.`;
  const [, key, value] =
    /^((?:- +)?[\w-]+)\s*[=:](?!\s)\s*(.*)$/.exec(line.replace(" =", "=").replace("= ", "=")) ?? [];
  if (key !== undefined && (line.includes("=") || code === "MULTILINE_IMPLICIT_KEY"))
    return `Write \`${key}: ${value}\`: a key has a colon and a space after it.`;
  if (/^[>|]/.test(keyAndText.exec(line)?.[2] ?? ""))
    return "A text that starts with > or | must stand in quotes; a limit is written as a number alone.";
  const colon = code === "BLOCK_AS_IMPLICIT_KEY" ? colonText(line) : null;
  if (colon !== null)
    return `Write \`${colon.key}: ${JSON.stringify(colon.text)}\`: a text that contains a colon must stand in quotes.`;
  if (code === "BLOCK_AS_IMPLICIT_KEY")
    return "The line below is indented further than this one, so that it was taken for a part of its text: indent both alike.";
  if (code === "MULTILINE_IMPLICIT_KEY" && !line.includes(":")) return "A colon is missing after the key.";
  if (code === "MISSING_CHAR" && !hasOpenQuote(line))
    return "The line is not indented like the lines it belongs to.";
  return (
    reasons[code] ??
    "The line cannot be read as YAML. Check its indentation, colons and quotes, and the line before."
  );
}

const reasons: Partial<Record<ErrorCode, string>> = {
  BAD_DQ_ESCAPE: "Inside double quotes a backslash must be doubled.",
  BAD_INDENT: "The line is not indented like the lines it belongs to.",
  BAD_SCALAR_START: "A text that starts with @, ` or % must stand in quotes.",
  BLOCK_IN_FLOW:
    "Inside brackets and braces commas separate the entries, and a text that contains a colon must stand in quotes.",
  MISSING_CHAR: "A closing quote is missing.",
  MULTILINE_IMPLICIT_KEY: "A key must stand in one line, with a colon after it.",
  MULTIPLE_DOCS: "The file holds several YAML documents: remove the line that separates them (---).",
  TAB_AS_INDENT: "Lines are indented with spaces, not with tabs.",
  TAG_RESOLVE_FAILED: "A text that starts with an exclamation mark must stand in quotes.",
  UNEXPECTED_TOKEN: "Something here is too much: a bracket, or a text after a closing quote.",
};

/** What could not be walked; the message says what to do. */
class YamlRefusal extends Error {
  readonly place: Place;
  readonly found: string;

  constructor(place: Place, found: string, advice: string) {
    super(advice);
    this.place = place;
    this.found = found;
  }
}

interface Spot {
  value: Place;
  key: Place;
  /** How a scalar was typed; null for lists and maps. */
  source: string | null;
  plain: boolean;
  blank: boolean;
}

const writeOut = "Write the values out where they stand, without aliases.";
/** Far more than a facility needs; a document that grows beyond it through aliases is a trap or a mistake. */
const mostNodes = 200_000;
const deepest = 20;

function yamlTree(document: Document, placeOf: (offset: number) => Place): YamlTree {
  const spots = new Map<string, Spot>();
  let nodes = 0;

  // Looking for an anchor walks the whole document: once for each alias, not once for each time it is passed.
  const targets = new Map<Alias, Node | null>();
  const targetOf = (alias: Alias): Node | null => {
    const known = targets.get(alias);
    if (known !== undefined) return known;
    const target = (alias.resolve(document) ?? null) as Node | null;
    targets.set(alias, target);
    return target;
  };

  const walk = (given: unknown, path: Path, key: Place): unknown => {
    let node = given as Node | null;
    const here = node?.range ? placeOf(node.range[0]) : key;
    nodes += 1;
    if (nodes > mostNodes || path.length > deepest) {
      throw new YamlRefusal(here, "more nested or repeated entries than a facility can have", writeOut);
    }
    if (isAlias(node)) {
      const name = node.source;
      node = targetOf(node);
      if (node === null) throw new YamlRefusal(here, `*${name}`, writeOut);
    }
    const spot: Spot = { value: here, key, source: null, plain: false, blank: false };
    spots.set(keyOf(path), spot);
    if (isMap(node)) {
      const entries: [string, unknown][] = [];
      for (const pair of node.items) {
        const name = pair.key as Scalar | null;
        const keyPlace = name?.range ? placeOf(name.range[0]) : here;
        if (!isScalar(name))
          throw new YamlRefusal(keyPlace, "a key that is a list or a map", "Make the key a text.");
        const word = typeof name.value === "string" ? name.value : (name.source ?? "");
        // The one name that plain values of this language cannot carry.
        if (word === "__proto__")
          throw new YamlRefusal(keyPlace, "the key __proto__", "Give the key another name.");
        entries.push([word, walk(pair.value, [...path, word], keyPlace)]);
      }
      return Object.fromEntries(entries);
    }
    if (isSeq(node)) return node.items.map((item, i) => walk(item, [...path, i], here));
    if (!isScalar(node) || node.value === null) {
      spot.blank = true;
      return null;
    }
    spot.plain = node.type === "PLAIN";
    spot.source = node.source ?? String(node.value);
    if (spot.plain && isText(path)) return spot.source;
    return node.value;
  };

  const value = walk(document.contents, [], { line: 1, column: 1 });
  const nearestSpot = (path: Path): Spot => {
    for (let length = path.length; length > 0; length -= 1) {
      const spot = spots.get(keyOf(path.slice(0, length)));
      if (spot !== undefined) return spot;
    }
    return spots.get(keyOf([]))!;
  };
  return {
    value,
    // A blank value has no place of its own worth pointing at.
    valueAt: (path) => {
      const spot = nearestSpot(path);
      return spot.blank ? spot.key : spot.value;
    },
    keyAt: (path) => (spots.has(keyOf(path)) ? spots.get(keyOf(path))!.key : nearestSpot(path).value),
    sourceAt: (path) => spots.get(keyOf(path))?.source ?? null,
    isPlain: (path) => spots.get(keyOf(path))?.plain ?? false,
    isBlank: (path) => spots.get(keyOf(path))?.blank ?? false,
  };
}

function keyOf(path: Path): string {
  return JSON.stringify(path);
}
