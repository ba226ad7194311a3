import { commentMark, linesOf } from "../forms/lines.ts";

/**
 * What comments above the data of a log say: a name, an equals sign or a colon, and a value. A comment may say several, with
 * semicolons between them.
 */
export function settingsIn(head: string): Map<string, string> {
  const settings = new Map<string, string>();
  for (const line of linesOf(head.replace(/^\ufeff/, ""))) {
    if (line.trim() === "") continue;
    if (!commentMark.test(line)) break;
    let last: string | null = null;
    for (const part of line.replace(commentMark, "").split(";")) {
      const setting = /^([^=:]+?)\s*[=:]\s*(.*)$/.exec(part.trim());
      // What is no setting of its own still belongs to the value before.
      if (setting !== null) {
        last = setting[1]!;
        settings.set(last, setting[2]!);
      } else if (last !== null) settings.set(last, `${settings.get(last)!};${part}`.trimEnd());
    }
  }
  return settings;
}

/** JSON members, XML attributes and XML elements that hold one short value. */
const shortValues = [
  /"([^"\\]{1,60})"\s*:\s*(?:"([^"\\]{1,80})"|(-?\d+(?:\.\d+)?))/g,
  /([A-Za-z_][\w.:-]*)\s*=\s*"([^"<>]{1,80})"/g,
  /<([A-Za-z_][\w.:-]*)(?:\s[^<>]*)?>([^<>]{1,80})<\//g,
];

/**
 * What stands in a JSON or XML log above its first read: comments, and members, attributes and elements with one short value. The
 * first read begins with the innermost object or element around the first code, which one of `codeNames` names.
 */
export function settingsAbove(head: string, codeNames: readonly string[]): Map<string, string> {
  const settings = settingsIn(head);
  const isNamed = (name: string) => codeNames.includes(name) || codeNames.includes(name.split(":").at(-1)!);
  const names = [...head.matchAll(/["<\s]([A-Za-z_@][^"<>=\s]{0,60})["=>\s]/g)];
  const code = names.find(([, name]) => isNamed(name!))?.index;
  if (code === undefined) return settings;
  const above = head.slice(0, Math.max(head.lastIndexOf("{", code), head.lastIndexOf("<", code - 1), 0));
  for (const pattern of shortValues) {
    for (const [, name, text, number] of above.matchAll(pattern)) {
      settings.set(name!.split(":").at(-1)!, (text ?? number)!.trim());
    }
  }
  return settings;
}

/** How much of a log is looked at: comments above the data are short. */
export const settingsHeadBytes = 1 << 16;
