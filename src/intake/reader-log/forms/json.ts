import type { Form, LogHead } from "./form.ts";
import { type Asked, brokenItem, FormFault, type Item } from "./item.ts";
import { JsonItems } from "./json-items.ts";
import { isBlankOrComment, linesOf } from "./lines.ts";

/** JSON that is not one value a line: a list over several lines, an object with its keys below each other, one line without an end. */
export const jsonDocument: Form = {
  id: "json-document",
  title: "a JSON document",
  hasLines: false,
  recognise: (head) => isJson(head) && !hasValuesInLines(head),
  async *items(log, asked) {
    const json = new JsonItems(asked);
    for await (const piece of log.pieces()) yield json.read(piece);
    yield json.end();
  },
};

/** JSON lines that are lists of reads, or that hold such lists. A line that is broken is an item that is refused. */
export const jsonLists: Form = {
  id: "json-lists",
  title: "JSON lines with lists of reads",
  hasLines: true,
  recognise: (head) =>
    isJson(head) && hasValuesInLines(head) && (head.hasRows || head.lines[0]!.trimStart().startsWith("[")),
  async *items(log, asked) {
    for await (const { firstLine, text } of log.stretches()) {
      const items: Item[] = [];
      for (const [index, line] of linesOf(text).entries())
        if (!isBlankOrComment(line)) items.push(...itemsOfText(line, firstLine + index, asked));
      yield items;
    }
  },
};

/** Whether a text is JSON by its first line. */
export function isJson({ lines: [first = ""] }: Pick<LogHead, "lines">): boolean {
  return /^\ufeff?\s*(?:\{\s*(?:["}]|$)|\[\s*(?:[[{"]|\]|$))/.test(first);
}

/** Whether each line is a value of its own: its first one is, or does not look as if its value went on in the next. */
function hasValuesInLines({ lines: [first = "", second] }: LogHead): boolean {
  try {
    JSON.parse(first.replace(/^\ufeff/, ""));
    return true;
  } catch {
    return second !== undefined && first.trimStart().startsWith("{") && !/[{[,:]\s*$/.test(first);
  }
}

/** The items of a text that is in memory; where it is no JSON, one item that is none. */
function itemsOfText(text: string, line: number, asked: Asked): Item[] {
  try {
    const json = new JsonItems(asked, line);
    return [...json.read(text), ...json.end()];
  } catch (fault) {
    if (!(fault instanceof FormFault)) throw fault;
    return [brokenItem(text, line)];
  }
}
