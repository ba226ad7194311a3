import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { Draw } from "../../bench/fuzz/draw.ts";
import { reducedFacilities } from "../../bench/fuzz/facilities.ts";
import { classes, mutantOf } from "../../bench/fuzz/mutants.ts";
import { fuzz } from "../../bench/fuzz/run.ts";
import { draws } from "../draws.ts";

const files = reducedFacilities("data").get("fennick-wash-plant")!;

test("a seed repeats its mutant, and mutants of every class differ from the facility", () => {
  const seen = new Set<string>();
  for (let seed = 1; seed <= 200; seed += 1) {
    const [one, again] = [mutantOf(new Draw(seed), files), mutantOf(new Draw(seed), files)];
    expect(again.what).toBe(one.what);
    const differ = [...one.files].filter(([path, bytes]) => again.files.get(path)?.equals(bytes) !== true);
    expect(differ).toHaveLength(0);
    expect(one.files === files && one.links.size === 0, one.what).toBe(false);
    seen.add(one.kind);
  }
  expect([...seen].sort()).toEqual(Object.keys(classes).sort());
});

test("whatever is changed in a facility, it is judged or refused, and an invalid cell is never taken in silence", async () => {
  const room = await mkdtemp(join(tmpdir(), "proofwalk-fuzz-"));
  const lines: string[] = [];
  const say = (line: string) => void lines.push(line);
  const breaches = await fuzz({
    room,
    data: "data",
    only: "fennick-wash-plant",
    mutants: draws(4),
    seed: 1,
    say,
    program: null,
  });
  expect(breaches, lines.join("\n")).toBe(0);
  expect(lines.join("\n")).toMatch(/class +mutants +refused +remarked +silent +fault/);
}, 180_000);
