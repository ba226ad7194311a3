import { expect, test } from "vitest";
import { causesOf } from "../../src/model/problem.ts";
import { log, read } from "./folder.ts";

const yaml = `name: Depot: north
report: { number: R-1, revision: A, issued: 28/11/2026 }
rounds: [{ id: as-left, date: 2026-11-23 }]
read_points: [{ id: dock-1, name: Dock 1 }, { id: dock-2, name: Dock 2 }]
conditions: [{ column: speed_m_s, label: Speed, bands: [0, 1, 2] }]
criteria: [{ id: c, measure: read-rate, at_least: 0.99 }]
`;
const tags = Array.from({ length: 10 }, (_, i) => `E2806894000050000000000${i}`);
const itemised = log(
  "round,pass,read_point,speed_m_s,tag,read",
  ...Array.from({ length: 5 }, (_, p) =>
    tags.map((tag, t) => `as left,P${p},Dock 1,${p === 3 ? 2.2 : 1},${t === 4 ? "3.08E+23" : tag},yes`),
  ).flat(),
);
const listed = log(
  "round,pass,read_point,speed_m_s,manifest,missed_tags",
  ...Array.from({ length: 16 }, (_, p) => `as left,Q${p},dock-2,2.2,cage a,"${tags[0]},${tags[1]}"`),
  "as-left,Q20,dock-2,1,cage-a,E28068940000500000009999",
);
const tally = log(
  "round,pass,read_point,tags_presented,tags_read",
  "as-left,T1,dock-2,40,41",
  "as-left,T1,dock-2,,1",
);

test("every mistake of a first folder shows in the first run, each once, whatever hides behind what", async () => {
  const { problems } = await read({
    "facility.yaml": yaml,
    "manifests/cage-a.csv": log("tag", ...tags),
    "passes/dock-1.csv": itemised,
    "passes/dock-1 (1).csv": itemised,
    "passes/dock-2.csv": listed,
    "passes/tally.csv": tally,
  });
  const causes = causesOf(problems.filter(({ severity }) => severity === "error"));
  const codes = causes.map(({ problems: [first] }) => first!.code);
  for (const code of [
    "yaml-syntax",
    "date-invalid",
    "value-not-allowed",
    "file-copied",
    "round-unknown",
    "read-point-unknown",
    "tag-in-exponent-notation",
    "value-outside-bands",
    "manifest-unknown",
    "tags-not-parted",
    "missed-tag-not-on-manifest",
    "read-more-than-presented",
    "pass-twice",
    "count-blank",
  ])
    expect(codes).toContain(code);
  expect(causes.length).toBeLessThan(18);
  expect(problems.length).toBeGreaterThan(150);
});
