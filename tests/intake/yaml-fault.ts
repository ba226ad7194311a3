import { describe, expect, test } from "vitest";
import type { Problem } from "../../src/model/problem.ts";
import { errors, read, soundLog, soundYaml } from "./folder.ts";

/** One thing wrong with facility.yaml, and how it is to be reported. */
export interface YamlFault {
  claim: string;
  /** Replaces the first by the second, or puts the second on top. */
  change: [string, string];
  code: string;
  /** The text the place points at. */
  at: string;
  found?: RegExp;
  says: RegExp;
}

export const criteria = (text: string) => `criteria:\n  - { id: c1, ${text} }\n`;
export const rate = "measure: tag-read-rate, at_least: 0.99";

/** The one error that a facility.yaml gives beside a sound log. */
export async function onlyError(yaml: string): Promise<Problem> {
  const { input, problems } = await read({ "facility.yaml": yaml, "passes/a.csv": soundLog });
  expect(input).toBeNull();
  const found = errors(problems);
  expect(found, JSON.stringify(found, null, 1)).toHaveLength(1);
  return found[0]!;
}

/** Line and column of a text, counted from 1. */
function placeOf(yaml: string, text: string) {
  const before = yaml.slice(0, yaml.indexOf(text)).split("\n");
  return { line: before.length, column: before.at(-1)!.length + 1 };
}

export function describeYamlFaults(subject: string, faults: YamlFault[]): void {
  describe(subject, () => {
    test.each(faults)("$claim", async ({ change: [from, to], code, at, found, says }) => {
      const yaml = from === "" ? `${to}${soundYaml}` : soundYaml.replace(from, to);
      const problem = await onlyError(yaml);
      expect(problem.code).toBe(code);
      expect({ line: problem.line, column: problem.column }).toEqual(placeOf(yaml, at));
      if (found !== undefined) expect(problem.found).toMatch(found);
      expect(`${problem.expected} ${problem.advice}`).toMatch(says);
      for (const text of [problem.found, problem.expected, problem.advice]) expect(text.trim()).not.toBe("");
    });
  });
}
