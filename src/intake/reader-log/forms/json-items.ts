import {
  type Around,
  type Asked,
  deepestNesting,
  FormFault,
  type Item,
  keyText,
  longestItem,
  longestMember,
  WaitingItems,
} from "./item.ts";

/** An object or a list that leads to items. */
interface Container {
  isList: boolean;
  /** How many of the keys of `rows` lead to it. */
  depth: number;
  /** Of an object. */
  around: Around;
  /** The key whose value comes next. */
  key: string;
}

type Expected = "value" | "value or end" | "key" | "key or end" | "colon" | "comma or end";

/** What a value that is copied as it stands is for. */
type Purpose = "item" | "member" | "key" | "nothing";

const [quote, backslash, openBrace, closeBrace, openList, closeList, comma, colon, lineFeed] = [
  ...'"\\{}[],:\n',
].map((mark) => mark.charCodeAt(0)) as [
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
];

/**
 * Finds items in a stream of JSON values, which need not be in memory whole: only what leads to a list of items is followed, and everything
 * else is copied or passed over. Numbers keep their digits.
 */
export class JsonItems {
  readonly #rows: readonly string[];
  /** What is known from outside the text. */
  readonly #outside: readonly Around[];
  /** Whether anything is asked of the objects around items. */
  readonly #asksAround: boolean;
  readonly #waiting: WaitingItems;
  readonly #stack: Container[] = [];
  #expected: Expected = "value";
  #line: number;
  /** Where the line begins, counted from the beginning of the text that is read. */
  #lineStart = 0;
  /** Of the last mark, from 1. */
  #column = 1;
  #found: Item[] = [];
  /** The value that is being copied: what for, its beginning so far, and how deep inside it the place is. */
  #copy: {
    purpose: Purpose;
    parts: string[];
    length: number;
    depth: number;
    line: number;
    column: number;
  } | null = null;
  #isInText = false;
  #isEscaped = false;

  constructor(asked: Asked, firstLine = 1, outside: readonly Around[] = []) {
    this.#rows = asked.rows;
    this.#outside = outside;
    this.#asksAround = asked.names !== null;
    this.#waiting = new WaitingItems(asked);
    this.#line = firstLine;
  }

  /** Reads on. Returns the items that are known by then. */
  read(text: string): Item[] {
    this.#found = [];
    let from = 0;
    for (let at = 0; at < text.length; ) {
      if (this.#copy !== null) {
        const end = this.#endOfCopy(text, at);
        if (end === null) break;
        this.#keep(text.slice(from, end));
        this.#finish();
        at = end;
        continue;
      }
      const mark = text.charCodeAt(at);
      if (mark === lineFeed) this.#startLine(at + 1);
      else if (mark > 32 && mark !== 0xfeff) {
        from = at;
        this.#column = at - this.#lineStart + 1;
        this.#take(mark);
      }
      at += 1;
    }
    if (this.#copy !== null) this.#keep(text.slice(from));
    this.#lineStart -= text.length;
    return this.#found;
  }

  #startLine(at: number): void {
    this.#line += 1;
    this.#lineStart = at;
  }

  /** The last items, at the end of the text. Throws where it ends inside a value. */
  end(): Item[] {
    this.#found = [];
    if (this.#copy !== null && this.#stack.length === 0 && this.#copy.depth === 0 && !this.#isInText)
      this.#finish();
    if (this.#stack.length > 0 || this.#copy !== null) throw this.#fault("a JSON value that does not end");
    for (const item of this.#waiting.release()) this.#found.push(item);
    return this.#found;
  }

  #fault(message: string): FormFault {
    return new FormFault(message, this.#line);
  }

  /** The place behind the copied value, looked for from a place on; null where the text ends first. */
  #endOfCopy(text: string, from: number): number | null {
    const copy = this.#copy!;
    // Of their own, since most of a log passes through this loop.
    let { depth } = copy;
    let isInText = this.#isInText;
    let isEscaped = this.#isEscaped;
    let end: number | null = null;
    for (let at = from; at < text.length && end === null; at += 1) {
      const mark = text.charCodeAt(at);
      if (mark === lineFeed) this.#startLine(at + 1);
      if (isInText) {
        if (isEscaped) isEscaped = false;
        else if (mark === backslash) isEscaped = true;
        else if (mark === quote) {
          isInText = false;
          if (depth === 0) end = at + 1;
        }
      } else if (mark === quote) isInText = true;
      else if (mark === openBrace || mark === openList) depth += 1;
      else if (mark === closeBrace || mark === closeList) {
        if (depth === 0) end = at;
        else if (depth === 1) end = at + 1;
        depth -= 1;
      } else if (depth === 0 && (mark === comma || mark <= 32)) end = at;
    }
    copy.depth = depth;
    this.#isInText = isInText;
    this.#isEscaped = isEscaped;
    return end;
  }

  #keep(text: string): void {
    const copy = this.#copy!;
    copy.length += text.length;
    const most = copy.purpose === "item" ? longestItem : longestMember;
    if (copy.length <= most && copy.purpose !== "nothing") copy.parts.push(text);
    else if (copy.purpose === "item") throw this.#fault(`an item of more than ${longestItem} characters`);
    else if (copy.purpose === "key") throw this.#fault(`a key of more than ${longestMember} characters`);
  }

  #start(purpose: Purpose, mark: number): void {
    const isText = mark === quote;
    const depth = mark === openBrace || mark === openList ? 1 : 0;
    this.#copy = { purpose, parts: [], length: 0, depth, line: this.#line, column: this.#column };
    this.#isInText = isText;
    this.#isEscaped = false;
  }

  #finish(): void {
    const { purpose, parts, length, line, column } = this.#copy!;
    this.#copy = null;
    const top = this.#stack.at(-1);
    if (purpose === "key") {
      top!.key = keyText(parts.join(""));
      this.#expected = "colon";
      return;
    }
    if (purpose === "item") {
      const around = this.#asksAround
        ? this.#stack
            .flatMap((each) => (each.isList ? [] : [each.around]))
            .reverse()
            .concat(this.#outside)
        : [];
      for (const item of this.#waiting.add({ line, column, value: parts.join(""), around }))
        this.#found.push(item);
    }
    if (purpose === "member" && length <= longestMember)
      this.#waiting.addMember(top!.around, [top!.key, parts.join("")], this.#line);
    this.#expected = top === undefined ? "value" : "comma or end";
  }

  /** Takes the first mark of a value, or a mark between values. */
  #take(mark: number): void {
    const top = this.#stack.at(-1);
    const isEnd = mark === (top?.isList === true ? closeList : closeBrace);
    switch (this.#expected) {
      case "colon":
        if (mark !== colon) throw this.#fault("a key without a colon behind it");
        this.#expected = "value";
        break;
      case "key":
      case "key or end":
        if (isEnd && this.#expected === "key or end") this.#close();
        else if (mark === quote) this.#start("key", mark);
        else throw this.#fault("no key where one is due");
        break;
      case "comma or end":
        if (isEnd) this.#close();
        else if (mark === comma) this.#expected = top!.isList ? "value" : "key";
        else throw this.#fault("no comma between two values");
        break;
      case "value":
      case "value or end":
        if (isEnd && this.#expected === "value or end") this.#close();
        else if ([closeList, closeBrace, comma, colon].includes(mark))
          throw this.#fault("no value where one is due");
        else this.#takeValue(mark, top);
    }
  }

  #takeValue(mark: number, top: Container | undefined): void {
    let depth = top?.depth ?? 0;
    const isList = mark === openList;
    if (top !== undefined && !top.isList) {
      const isAll = top.key === this.#rows.slice(depth).join(".");
      if (!isAll && top.key !== this.#rows[depth]) {
        this.#start(isList ? "nothing" : "member", mark);
        return;
      }
      depth = isAll ? this.#rows.length : depth + 1;
    }
    const isItem = depth === this.#rows.length;
    if (isList || (!isItem && mark === openBrace)) {
      if (this.#stack.length === deepestNesting)
        throw this.#fault(`more than ${deepestNesting} lists in each other`);
      this.#stack.push({ isList, depth, around: { members: [], isOpen: false }, key: "" });
      this.#expected = isList ? "value or end" : "key or end";
    } else this.#start(isItem ? "item" : "nothing", mark);
  }

  #close(): void {
    this.#stack.pop();
    if (this.#stack.every(({ isList }) => isList))
      for (const item of this.#waiting.release()) this.#found.push(item);
    this.#expected = this.#stack.length === 0 ? "value" : "comma or end";
  }
}
