import type { Form } from "./form.ts";
import { type Asked, brokenItem, type Item, type Member, wholeItem } from "./item.ts";
import { isBlankOrComment, linesOf } from "./lines.ts";

const pair = /(?<=^|[\s,;|])([\p{L}_][\p{L}\p{N}_.-]*)=(?:"((?:[^"\\]|\\.)*)"|)/gu;

/** Lines of `key=value`. What stands before the first key goes by the name `text`: the time, mostly. */
export const keyValues: Form = {
  id: "key-values",
  title: "lines of key=value",
  hasLines: true,
  recognise: ({ lines }) => {
    const [first, ...others] = lines.slice(0, 5).map(membersOfLine);
    return first !== undefined && [first, ...others.slice(0, -1)].every(({ length }) => length >= 2);
  },
  async *items(log, asked) {
    for await (const { firstLine, text } of log.stretches()) {
      const items: Item[] = [];
      for (const [index, line] of linesOf(text).entries())
        if (!isBlankOrComment(line)) items.push(itemOfLine(line, firstLine + index, asked));
      yield items;
    }
  },
};

function itemOfLine(line: string, number: number, asked: Asked): Item {
  const members = membersOfLine(line);
  if (members.length === 0) return brokenItem(line, number);
  const value = `{${members.map(([key, each]) => `${JSON.stringify(key)}:${each}`).join(",")}}`;
  return { ...wholeItem({ line: number, column: 1, value, around: [] }, asked), shown: line };
}

/** A value goes on to the next key, without the marks between, or is in quotes. */
function membersOfLine(line: string): Member[] {
  const found = [...line.matchAll(pair)];
  const members = found.map(({ 0: start, 1: key, 2: inQuotes, index }, i): Member => {
    const value =
      inQuotes === undefined
        ? withoutMarks(line.slice(index + start.length, found[i + 1]?.index))
        : inQuotes.replace(/\\(.)/g, "$1");
    return [key!, JSON.stringify(value.trim())];
  });
  const before = withoutMarks(line.slice(0, found[0]?.index ?? 0));
  return members.length === 0 || before === "" ? members : [["text", JSON.stringify(before)], ...members];
}

/** Without the marks at its end. */
function withoutMarks(text: string): string {
  let end = text.length;
  while (end > 0 && /[\s,;|]/.test(text[end - 1]!)) end -= 1;
  return text.slice(0, end);
}
