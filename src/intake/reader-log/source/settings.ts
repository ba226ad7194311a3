import { commentMark, linesOf } from "../forms/lines.ts";

/** What comments above the data of a log say: a name, an equals sign or a colon, and a value. */
export function settingsIn(head: string): Map<string, string> {
  const settings = new Map<string, string>();
  for (const line of linesOf(head.replace(/^\ufeff/, ""))) {
    if (line.trim() === "") continue;
    if (!commentMark.test(line)) break;
    const setting = /^([^=:]+?)\s*[=:]\s*(.*)$/.exec(line.replace(commentMark, "").trim());
    if (setting !== null) settings.set(setting[1]!, setting[2]!);
  }
  return settings;
}

/** How much of a log is looked at: comments above the data are short. */
export const settingsHeadBytes = 1 << 16;
