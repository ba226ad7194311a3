import { SaxesParser, type SaxesTag } from "saxes";
import { xmlFault } from "../../problems/card/wording.ts";
import type { Form } from "./form.ts";
import {
  type Around,
  type Asked,
  deepestNesting,
  FormFault,
  type Item,
  longestItem,
  type Member,
  WaitingItems,
} from "./item.ts";

/** XML. A list is a run of elements of one name; an element with nothing but text is worth its text. */
export const xmlReports: Form = {
  id: "xml",
  title: "XML reports",
  hasLines: false,
  recognise: ({ lines: [first = ""] }) => /^\ufeff?\s*<[?!\w]/.test(first),
  async *items(log, asked) {
    const xml = new XmlItems(asked);
    for await (const piece of log.pieces()) yield xml.read(piece);
    yield xml.end();
  },
};

interface Element {
  name: string;
  /** How many of the keys of `rows` lead to it; null inside an item and off the way. */
  depth: number | null;
  members: Member[];
  text: string;
  around: Around | null;
  line: number;
  column: number;
}

/** Finds items in a stream of XML. Types of documents, and so entities of their own, are refused. */
class XmlItems {
  readonly #asked: Asked;
  readonly #parser: SaxesParser<{ fragment: true }>;
  readonly #waiting: WaitingItems;
  readonly #stack: Element[] = [];
  /** A tag that is not whole yet. */
  #tail = "";
  #length = 0;
  #found: Item[] = [];
  #fault: FormFault | null = null;

  constructor(asked: Asked) {
    this.#asked = asked;
    this.#waiting = new WaitingItems(asked);
    // A log of reports has several roots.
    this.#parser = new SaxesParser({ fragment: true });
    this.#parser.on("error", ({ message }) => {
      const words = xmlFault(message);
      this.#fail(/doctype/.test(words) ? "a document type, which may define entities" : words);
    });
    this.#parser.on("opentag", (tag) => this.#open(tag));
    this.#parser.on("text", (text) => this.#addText(text));
    this.#parser.on("cdata", (text) => this.#addText(text));
    this.#parser.on("closetag", () => this.#close());
  }

  /** Reads on. Returns the items that are known by then. */
  read(piece: string): Item[] {
    this.#found = [];
    const text = this.#tail + piece;
    const open = text.lastIndexOf("<");
    const end = open > text.lastIndexOf(">") && text.length - open < longestItem ? open : text.length;
    this.#tail = text.slice(end);
    // Each report of a log may begin with a declaration, which the parser would take once.
    this.#parser.write(
      text.slice(0, end).replace(/<\?xml\s[^<>]*\?>/g, (words) => words.replace(/[^\n]/g, " ")),
    );
    if (this.#fault !== null) throw this.#fault;
    return this.#found;
  }

  end(): Item[] {
    this.#found = [];
    this.#parser.write(this.#tail);
    if (this.#stack.length > 0) this.#fail(`an element ${this.#stack.at(-1)!.name} that does not end`);
    else this.#parser.close();
    if (this.#fault !== null) throw this.#fault;
    return this.#found;
  }

  #fail(message: string): void {
    this.#fault ??= new FormFault(message, this.#parser.line);
  }

  #open({ name, attributes }: SaxesTag): void {
    const parent = this.#stack.at(-1);
    const { rows } = this.#asked;
    const own = localName(name);
    const above = parent === undefined ? 0 : parent.depth;
    const depth = above !== null && above < rows.length && rows[above] === own ? above + 1 : null;
    const members = Object.entries(attributes)
      .filter(([key]) => key !== "xmlns" && !key.startsWith("xmlns:"))
      .map(([key, value]): Member => [localName(key), JSON.stringify(String(value))]);
    const isAround = depth !== null && depth < rows.length;
    if (this.#stack.length === deepestNesting)
      throw new FormFault(`more than ${deepestNesting} elements in each other`, this.#parser.line);
    if (parent === undefined || parent.around !== null) this.#length = 0;
    this.#grow(name.length + members.reduce((sum, [key, value]) => sum + key.length + value.length, 0));
    this.#stack.push({
      name: own,
      depth,
      members,
      text: "",
      around: isAround ? { members, isOpen: false } : null,
      line: this.#parser.line,
      column: this.#parser.column,
    });
  }

  #addText(text: string): void {
    const element = this.#stack.at(-1);
    if (element === undefined || element.around !== null) return;
    this.#grow(text.length);
    element.text += text;
  }

  #grow(length: number): void {
    this.#length += length;
    if (this.#length > longestItem)
      throw new FormFault(`an element of more than ${longestItem} characters`, this.#parser.line);
  }

  #close(): void {
    const { name, depth, members, text, around, line, column } = this.#stack.pop()!;
    const parent = this.#stack.at(-1);
    if (around !== null) {
      if (this.#stack.length === 0) this.#found.push(...this.#waiting.release());
      return;
    }
    const value = jsonOf(members, text);
    if (depth === this.#asked.rows.length) {
      const outside = this.#stack.flatMap((each) => (each.around === null ? [] : [each.around])).reverse();
      this.#found.push(...this.#waiting.add({ line, column, value, around: outside }));
    } else if (parent !== undefined) {
      if (parent.around === null) parent.members.push([name, value]);
      else this.#waiting.addMember(parent.around, [name, value], this.#parser.line);
    }
  }
}

/** Without the prefix of its namespace. */
function localName(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

/** Elements of one name become a list. Attributes beside a text only say how it is written. */
function jsonOf(members: readonly Member[], text: string): string {
  if (text.trim() !== "" || members.length === 0) return JSON.stringify(text.trim());
  const byName = new Map<string, string[]>();
  for (const [name, value] of members) {
    const known = byName.get(name);
    if (known === undefined) byName.set(name, [value]);
    else known.push(value);
  }
  const texts = [...byName].map(
    ([name, values]) =>
      `${JSON.stringify(name)}:${values.length === 1 ? values[0] : `[${values.join(",")}]`}`,
  );
  return `{${texts.join(",")}}`;
}
