import type { Form } from "./form.ts";
import { type Around, type Asked, brokenItem, FormFault, type Item, longestItem } from "./item.ts";
import { JsonItems } from "./json-items.ts";
import { linesOf } from "./lines.ts";

const field = /^(data|event|id|retry)(?:: ?(.*))?$/s;

/** Server-sent events with JSON in their data. The names `event` and `id` are those of the message. */
export const eventStream: Form = {
  id: "event-stream",
  title: "server-sent events",
  hasLines: true,
  recognise: ({ lines }) =>
    lines.some((line) => line.startsWith("data:")) &&
    lines.slice(0, 3).every((line) => /^:|^(?:data|event|id|retry)(?::|$)/.test(line)),
  async *items(log, asked) {
    const stream = new EventStream(asked);
    for await (const { firstLine, text } of log.stretches()) {
      const items: Item[] = [];
      for (const [index, line] of linesOf(text).entries())
        items.push(...stream.read(line, firstLine + index));
      yield items;
    }
    yield stream.read("", 0);
  },
};

class EventStream {
  readonly #asked: Asked;
  #names = new Map<string, string>();
  #data: { line: number; text: string } | null = null;

  constructor(asked: Asked) {
    this.#asked = asked;
  }

  /** A message ends with a blank line; where a log has none between its messages, with the line that completes its data. */
  read(line: string, number: number): Item[] {
    if (line.trim() === "") {
      const items = this.#data === null ? [] : [brokenItem(this.#data.text, this.#data.line)];
      this.#data = null;
      this.#names.clear();
      return items;
    }
    if (/^\ufeff?:/.test(line)) return [];
    const [, name, value = ""] = field.exec(line.replace(/^\ufeff/, "")) ?? [];
    if (name === undefined) return [brokenItem(line, number)];
    if (name !== "data") {
      this.#names.set(name, JSON.stringify(value));
      return [];
    }
    const data = {
      line: this.#data?.line ?? number,
      text: this.#data === null ? value : `${this.#data.text}\n${value}`,
    };
    this.#data = null;
    if (data.text.trim() === "") return [];
    const items = /[\]}]\s*$/.test(data.text) ? this.#whole(data.text, data.line) : null;
    if (items !== null) return items;
    if (data.text.length > longestItem) return [brokenItem(data.text, data.line)];
    this.#data = data;
    return [];
  }

  /** The items of data that are whole; null where more is to come. */
  #whole(text: string, line: number): Item[] | null {
    const outside: Around[] = [{ members: [...this.#names], isOpen: false }];
    try {
      const json = new JsonItems(this.#asked, line, outside);
      return [...json.read(text), ...json.end()];
    } catch (fault) {
      if (!(fault instanceof FormFault)) throw fault;
      return null;
    }
  }
}
