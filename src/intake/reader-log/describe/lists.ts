import type { Form, LogText } from "../forms/form.ts";
import { formOf } from "../forms/index.ts";
import { deepestNesting, FormFault, type Item } from "../forms/item.ts";
import { isJson, jsonLists } from "../forms/json.ts";
import { isBlankOrComment, lineEnd } from "../forms/lines.ts";
import { roleOfName } from "../source/column-words.ts";

/** A form that is neither a table nor one JSON object a line, as the beginning of a log shows it. */
export interface LogForm {
  form: Form;
  /** The keys that lead to lists of reads; null where none do. */
  rows: string[] | null;
  /** The first items, each as one JSON object. */
  items: string[];
}

const mostLines = 100;

/** Guesses how a log is written from its beginning; null of a table, and of one JSON object a line. */
export async function guessLogForm(text: string, isWhole: boolean): Promise<LogForm | null> {
  const lines = text.split(lineEnd, mostLines).filter((line) => !isBlankOrComment(line));
  const shown = formOf({ lines, hasRows: false });
  if (shown === null && !isJson({ lines })) return null;
  const form = shown ?? jsonLists;
  const whole = isWhole ? text : closed(text, form);
  const root = form.id === "xml" ? rootOf(whole) : [];
  const values = (await itemsOf(form, whole, root)).map(({ text: item }) => parsed(item));
  const rows = rowsIn(values, root);
  if (shown === null && rows.length === 0) return null;
  const items = await itemsOf(form, whole, rows);
  return { form, rows: rows.length === 0 ? null : rows, items: items.map((item) => item.text) };
}

/** What can be read of a text; what is cut off at its end is left out. */
async function itemsOf(form: Form, text: string, rows: readonly string[]): Promise<Item[]> {
  const log: LogText = {
    async *pieces() {
      yield text;
    },
    async *stretches() {
      yield { firstLine: 1, text };
    },
  };
  const found: Item[] = [];
  try {
    for await (const items of form.items(log, { rows, names: [] })) found.push(...items);
  } catch (fault) {
    if (!(fault instanceof FormFault)) throw fault;
  }
  return found;
}

/** The name of the outermost element of XML. */
function rootOf(text: string): string[] {
  for (const { name } of tagsIn(text)) return [name.slice(name.indexOf(":") + 1)];
  return [];
}

/** The beginning of a document as a document: up to the last value that is whole, with all closed that is open there. */
function closed(text: string, { id }: Form): string {
  if (id === "json-document") return closedJson(text);
  return id === "xml" ? closedXml(text) : text.slice(0, text.lastIndexOf("\n") + 1);
}

function closedJson(text: string): string {
  const open: string[] = [];
  let isText = false;
  let end = { at: 0, closing: "" };
  for (let at = 0; at < text.length; at += 1) {
    const mark = text[at]!;
    if (isText) {
      if (mark === "\\") at += 1;
      else if (mark === '"') isText = false;
      continue;
    }
    if (mark === '"') isText = true;
    else if (mark === "{") open.push("}");
    else if (mark === "[") open.push("]");
    else if (mark === "}" || mark === "]") {
      open.pop();
      end = { at: at + 1, closing: open.toReversed().join("") };
    }
  }
  return text.slice(0, end.at) + end.closing;
}

function closedXml(text: string): string {
  const open: string[] = [];
  let end = { at: 0, closing: "" };
  for (const { name, kind, endsAt } of tagsIn(text)) {
    if (kind === "start") open.push(name);
    else {
      if (kind === "end") open.pop();
      const closing = open.toReversed().map((each) => `</${each}>`);
      end = { at: endsAt, closing: closing.join("") };
    }
  }
  return text.slice(0, end.at) + end.closing;
}

interface Tag {
  name: string;
  kind: "start" | "end" | "empty";
  endsAt: number;
}

/** The tags of XML that are whole. */
function* tagsIn(text: string): Generator<Tag> {
  for (let at = text.indexOf("<"); at >= 0; at = text.indexOf("<", at + 1)) {
    const close = ["<!--", "<![CDATA["].findIndex((mark) => text.startsWith(mark, at));
    const mark = ["-->", "]]>"][close] ?? ">";
    const stop = text.indexOf(mark, at);
    if (stop < 0) return;
    const inside = text.slice(at + 1, stop);
    at = stop;
    if (/^[?!]/.test(inside)) continue;
    const kind = inside.startsWith("/") ? "end" : inside.endsWith("/") ? "empty" : "start";
    const [name] = inside.replaceAll("/", " ").trim().split(/\s/, 1) as [string];
    yield { name, kind, endsAt: stop + mark.length };
  }
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}

/** Items at a path: how many look like reads, and whether they tell a time as well. */
interface Candidate {
  path: string[];
  reads: number;
  times: number;
}

/** The path at which most items look like reads. Of equal ones the outermost; of elements the innermost that tells a time, since an element that comes once is no list. */
function rowsIn(values: readonly unknown[], root: readonly string[]): string[] {
  const found = new Map<string, Candidate>();
  for (const value of values) {
    for (const { path, item } of itemsIn(value, root)) {
      const leaves = leavesOf(item, path.at(-1) ?? "");
      if (!leaves.some(([name, leaf]) => isCode(name, leaf))) continue;
      const key = path.join("\n");
      const candidate = found.get(key) ?? { path, reads: 0, times: 0 };
      found.set(key, candidate);
      candidate.reads += 1;
      if (leaves.some(([name]) => roleOfName(name)?.role === "time")) candidate.times += 1;
    }
  }
  const candidates = [...found.values()].sort((a, b) => b.reads - a.reads || a.path.length - b.path.length);
  const [best] = candidates;
  if (best === undefined) return [];
  const inner = candidates.findLast(({ reads, times }) => reads === best.reads && times === reads);
  return (root.length > 0 && inner !== undefined ? inner : best).path;
}

/** The items at each path from a value downwards, itself first. A list is the items in it. */
function* itemsIn(
  item: unknown,
  path: readonly string[],
  depth = 0,
): Generator<{ path: string[]; item: unknown }> {
  if (depth > deepestNesting) return;
  if (Array.isArray(item)) for (const each of item) yield* itemsIn(each, path, depth + 1);
  else {
    yield { path: [...path], item };
    if (isObject(item))
      for (const [key, each] of Object.entries(item)) yield* itemsIn(each, [...path, key], depth + 1);
  }
}

/** The values in an object and in the objects in it, not those in lists; of a value that is no object, itself under its own name. */
function leavesOf(value: unknown, name: string, depth = 0): [string, unknown][] {
  if (!isObject(value) || depth > deepestNesting) return [[name, value]];
  return Object.entries(value).flatMap(([key, each]): [string, unknown][] =>
    Array.isArray(each) ? [] : isObject(each) ? leavesOf(each, key, depth + 1) : [[key, each]],
  );
}

/** Whether a value is a tag's code: a long hexadecimal number or a URI, or a text under a name of codes. */
function isCode(name: string, value: unknown): boolean {
  if (typeof value !== "string") return false;
  if (/^urn:epc:/i.test(value)) return true;
  const role = roleOfName(name)?.role;
  if (role === "chip number") return false;
  return role === "code"
    ? value.length >= 8
    : /^(?:0x)?(?=.*\d)[0-9A-Fa-f]{16,}$/.test(value) && !/^\d{16,19}$/.test(value);
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
