import fc from "fast-check";
import { expect, test } from "vitest";
import { parse, stringify } from "yaml";
import { readFacilityYaml } from "../../src/intake/facility/facility.ts";
import { ProblemList } from "../../src/intake/problems/problem-list.ts";
import { draws } from "../draws.ts";

type Path = (string | number)[];

const whole = parse(`
name: Hall
time_zone: Europe/Dublin
report: { number: T-1, revision: A, issued: 2026-05-22 }
prepared_by: { name: A, role: B }
witnessed_by: [{ name: C }]
confidence: 0.95
interval: wilson
rounds: [{ id: r1, date: 2026-05-18, settings: { dock: { power: 30 } } }]
sign_off_round: r1
read_points: [{ id: dock, at: { x: 1, y: 2 }, equipment: { serial: 0012 } }]
conditions: [{ column: speed, bands: [0, 1, 2] }]
criteria:
  - { id: c1, measure: tag-read-rate, at_least: 0.9, read_points: [dock], where: { speed: [0 to 1] }, for_each: [speed] }
  - { id: c2, measure: rssi-quantile, at_least: -65, quantile: 0.05, where: { speed: { from: 0, to: 1 } } }
  - { id: c3, measure: agreement-rate, at_least: 0.9, observed: a, expected: b }
  - { id: c4, measure: idle-read-rate, at_most: 0.5, minimum_passes: 3 }
concessions: [{ criterion: c1, read_point: dock, granted_by: D, on: 2026-05-22, until: 2026-06-22 }]
open_points: [{ id: P1, read_point: dock, text: Mend it, due: 2026-05-22 }]
reader_logs:
  - { files: [reads/a.csv], read_point: { column: r, values: { a: dock } }, columns: { time: t, epc: e }, time: { unit: ms } }
pass_window: { before_s: 1, after_s: 1 }
plan: { tags_per_pass: 4, expected_rate: 0.99, each: { speed: [0.5, 1.5] }, read_points: [dock] }
floor_plan: { width_m: 3, depth_m: 4, areas: [{ name: A, x: 1, y: 1, width: 2, height: 2 }] }
`) as unknown;

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  const steps = Array.isArray(value) ? value.map((_, i) => i) : Object.keys(value);
  return [
    path,
    ...steps.flatMap((step) => pathsOf((value as Record<string | number, unknown>)[step], [...path, step])),
  ];
}

function replaced(value: unknown, [step, ...rest]: Path, by: unknown): unknown {
  if (step === undefined) return by;
  if (Array.isArray(value)) return value.map((entry, i) => (i === step ? replaced(entry, rest, by) : entry));
  const pairs = Object.entries(value as object);
  return Object.fromEntries(
    pairs.map(([key, entry]) => [key, key === step ? replaced(entry, rest, by) : entry]),
  );
}

test("whatever stands in facility.yaml, it is read or refused in whole sentences", () => {
  const paths = pathsOf(whole).filter((path) => path.length > 0);
  const anything = fc.oneof(
    fc.constantFrom<unknown>(
      null,
      "",
      " ",
      0,
      1,
      -5,
      99.5,
      1e30,
      true,
      [],
      {},
      [[]],
      [null],
      { a: 1 },
      "99 %",
      "0,5",
    ),
    fc.string(),
    fc.jsonValue(),
  );
  fc.assert(
    fc.property(fc.constantFrom(...paths), anything, (path, by) => {
      const problems = new ProblemList("x");
      const read = readFacilityYaml("x", stringify(replaced(whole, path, by)), problems);
      const listed = problems.sorted(() => null);
      if (read === null) expect(problems.hasErrors).toBe(true);
      for (const { found, expected, advice, line, code } of listed) {
        for (const text of [found, expected, advice]) {
          expect(text.trim(), code).not.toBe("");
          expect(text, code).not.toMatch(/undefined|\[object|NaN/);
        }
        expect(advice, code).toMatch(/[.?]$/);
        expect(line === null || line > 0).toBe(true);
      }
    }),
    { numRuns: draws(30) },
  );
});
