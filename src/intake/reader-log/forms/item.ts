/** A read, or another event, as a log in a form of its own holds it. */
export interface Item {
  /** From 1. */
  line: number;
  column: number;
  /** What it holds as one JSON object on one line: what was asked for, what is in it, and what is in the objects around it. */
  text: string;
  /** As it stands in the file. */
  shown: string;
  /** What was asked for and found, as JSON. */
  found: ReadonlyMap<string, string>;
}

/** What is asked of each item. */
export interface Asked {
  /** The keys that lead to a list of items from the outside; none where each value at the top is an item or a list of them. */
  rows: readonly string[];
  /** Names that are looked up in the item and then in the objects around it; with dots, a path. Null for items as they stand. */
  names: readonly string[] | null;
}

/** A log that is not what its form wants: the message says what was found. */
export class FormFault extends Error {
  readonly line: number;

  constructor(message: string, line: number) {
    super(`${message}, in line ${line}`);
    this.line = line;
  }
}

/** A key and its value as JSON. */
export type Member = readonly [key: string, value: string];

/** An object around items. */
export interface Around {
  members: Member[];
  /** Whether items were handed on before all of it was read. */
  isOpen: boolean;
}

/** An item before it is known what the objects around it hold. */
export interface RawItem extends Pick<Item, "line" | "column"> {
  /** JSON. */
  value: string;
  /** The objects around it, the innermost first. */
  around: readonly Around[];
}

/** Items wait for the end of the objects around them, which may hold more about them, up to so many characters. */
const mostWaiting = 1 << 24;
/** Characters of one value: longer ones of the objects around items are left out. */
export const longestMember = 1 << 12;
/** Objects in each other of which each holds one value. */
export const deepestValue = 8;
/** Objects and lists, or elements, in each other. */
export const deepestNesting = 100;
/** Characters of an item. */
export const longestItem = 1 << 23;

/** Items that wait until the objects around them end. */
export class WaitingItems {
  readonly #asked: Asked;
  #waiting: RawItem[] = [];
  #length = 0;
  /** Names that some item was handed on without. */
  readonly #lacking = new Set<string>();

  constructor(asked: Asked) {
    this.#asked = asked;
  }

  /** Takes an item in. Returns the items that need wait no longer. */
  add(item: RawItem): Item[] {
    this.#waiting.push(item);
    this.#length += item.value.length;
    if (item.around.length === 0) return this.release();
    if (this.#length < mostWaiting) return [];
    for (const { around } of this.#waiting) for (const each of around) each.isOpen = true;
    const items = this.release();
    for (const name of this.#asked.names ?? [])
      if (items.some(({ found }) => !found.has(name))) this.#lacking.add(name);
    return items;
  }

  /** Adds to an object around items. */
  addMember(around: Around, [key, value]: Member, line: number): void {
    const isLate = (name: string) => name === key || name.startsWith(`${key}.`);
    if (around.isOpen && [...this.#lacking].some(isLate)) {
      throw new FormFault(
        `the key ${JSON.stringify(key)} behind a list of more than ${mostWaiting} characters, which is not kept in memory: have the log write it before the list`,
        line,
      );
    }
    around.members.push([key, value]);
  }

  /** The items that wait, at the end of what is around them. */
  release(): Item[] {
    const items = this.#waiting.map((item) => wholeItem(item, this.#asked));
    this.#waiting = [];
    this.#length = 0;
    return items;
  }
}

const nothing: Item["found"] = new Map();

/** Puts an item and what is around it into one object: what was asked for first, since of two equal keys the first is read. */
export function wholeItem({ line, column, value, around }: RawItem, { rows, names }: Asked): Item {
  const shown = value;
  if (names === null) return { line, column, text: value, shown, found: nothing };
  const own = membersOf(value);
  if (own === null && value.trimStart().startsWith("{"))
    return { line, column, text: oneLine(value), shown, found: new Map() };
  // What is no object goes by the name of the list that holds it.
  const item: readonly Member[] = own ?? rows.slice(-1).map((key): Member => [key, value]);
  const layers = [item, ...around.map(({ members }) => members)];
  const asked = names.flatMap((name): Member[] => {
    for (const layer of layers) {
      const found = valueAt(layer, name);
      if (found !== null) return [[name, found]];
    }
    return [];
  });
  const keys = new Set<string>();
  const members = [asked, ...layers].flat().filter(([key]) => !keys.has(key) && keys.add(key));
  const text = members.map(([key, each]) => `${JSON.stringify(key)}:${each}`).join(",");
  return { line, column, text: oneLine(`{${text}}`), shown, found: new Map(asked) };
}

/** A text that holds no item that can be read. */
export function brokenItem(shown: string, line: number): Item {
  return { line, column: 1, text: `! ${oneLine(shown.slice(0, 1000))}`, shown, found: new Map() };
}

/** Line ends and other control characters stand between values, or are no JSON. */
function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is replaced.
  return text.replace(/[\0-\x1f]+/g, " ");
}

/** The value that a name stands for: of a key of that name, or at the path that it spells. An object with one value in it is worth that value. */
function valueAt(members: readonly Member[], name: string): string | null {
  const own = members.find(([key]) => key === name);
  if (own !== undefined) return onlyValue(own[1]);
  for (let dot = name.indexOf("."); dot > 0; dot = name.indexOf(".", dot + 1)) {
    const outer = members.find(([key]) => key === name.slice(0, dot));
    const inner = outer === undefined ? null : membersOf(outer[1]);
    if (inner !== null) return valueAt(inner, name.slice(dot + 1));
  }
  return null;
}

function onlyValue(value: string, depth = 0): string {
  const members = value.startsWith("{") && depth < deepestValue ? membersOf(value) : null;
  return members?.length === 1 ? onlyValue(members[0]![1], depth + 1) : value;
}

/** The keys of an object and their values as they stand, so that long numbers keep their digits; null of anything else. */
export function membersOf(json: string): Member[] | null {
  let at = afterBlanks(json, 0);
  if (json[at] !== "{") return null;
  const members: Member[] = [];
  at = afterBlanks(json, at + 1);
  while (json[at] !== "}") {
    if (json[at] !== '"') return null;
    const keyEnd = endOfValue(json, at);
    const colon = afterBlanks(json, keyEnd);
    if (json[colon] !== ":") return null;
    const start = afterBlanks(json, colon + 1);
    const end = endOfValue(json, start);
    if (end === start) return null;
    members.push([keyText(json.slice(at, keyEnd)), json.slice(start, end)]);
    at = afterBlanks(json, end);
    if (json[at] === ",") at = afterBlanks(json, at + 1);
    else if (json[at] !== "}") return null;
  }
  return members;
}

/** A key without its quotes. */
export function keyText(quoted: string): string {
  if (!quoted.includes("\\")) return quoted.slice(1, -1);
  try {
    return JSON.parse(quoted) as string;
  } catch {
    return quoted.slice(1, -1);
  }
}

function afterBlanks(json: string, from: number): number {
  let at = from;
  while (at < json.length && json.charCodeAt(at) <= 32) at += 1;
  return at;
}

/** Where a value ends that begins at a place: strings and brackets are followed, everything else ends at a mark. */
function endOfValue(json: string, from: number): number {
  let depth = 0;
  for (let at = from; at < json.length; at += 1) {
    const mark = json[at]!;
    if (mark === '"') {
      at += 1;
      while (at < json.length && json[at] !== '"') at += json[at] === "\\" ? 2 : 1;
      if (depth === 0) return at + 1;
    } else if (mark === "{" || mark === "[") depth += 1;
    else if (mark === "}" || mark === "]") {
      if (depth === 0) return at;
      depth -= 1;
      if (depth === 0) return at + 1;
    } else if (depth === 0 && (mark === "," || mark === ":" || json.charCodeAt(at) <= 32)) return at;
  }
  return json.length;
}
