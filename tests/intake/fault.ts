import { describe, expect, test } from "vitest";
import { errors, type Files, log, read } from "./folder.ts";

/** One thing wrong with a folder, and how it is to be reported. */
export interface Fault {
  claim: string;
  files: Files;
  /** Where, if not in the log. */
  file?: string;
  code: string;
  line: number | null;
  /** The text in that line that the column points at; null for the start of the line. */
  at: string | null;
  found?: RegExp;
  says: RegExp;
}

export const itemised = "round,pass,read_point,tag,presented,read,rssi_dbm,antenna,reads,void_reason";
export const listed = "round,pass,read_point,manifest,missed_tags,stray_tags";
export const tally = "round,pass,read_point,tags_presented,tags_read,stray_tags";
export const oneLog = (...lines: string[]): Files => ({ "passes/a.csv": log(lines[0]!, ...lines.slice(1)) });
export const row = (cells: string) => oneLog(itemised, `as-left,P1,dock-1,${cells}`);

/** Holds each fault to its one error: its code, its place, its words. */
export function describeFaults(subject: string, faults: Fault[]): void {
  describe(subject, () => {
    test.each(faults)("$claim", async ({ files, file = "passes/a.csv", code, line, at, found, says }) => {
      const { input, problems } = await read(files);
      expect(input).toBeNull();
      const all = errors(problems);
      expect(all, JSON.stringify(all, null, 1)).toHaveLength(1);
      const problem = all[0]!;
      expect(problem).toMatchObject({ code, file, line });
      if (line !== null) {
        const text = files[file]!.toString().split("\n")[line - 1]!;
        expect(text.slice(problem.column! - 1).slice(0, at?.length)).toBe(at ?? text);
      }
      if (found !== undefined) expect(problem.found).toMatch(found);
      expect(`${problem.expected} ${problem.advice}`).toMatch(says);
      for (const part of [problem.found, problem.expected, problem.advice]) expect(part.trim()).not.toBe("");
    });
  });
}
