import { describe, expect, test } from "vitest";
import { readAll } from "../../src/commands/data/read-all.ts";
import { listJourneys } from "../../src/intake/data-folder.ts";
import type { Problem } from "../../src/model/problem.ts";
import { inFolder } from "../intake/folder.ts";
import { carrierRule, chainFiles, heading, legs, said } from "./chain-folder.ts";

const day = "2026-06-15T09:00:00Z,2026-06-15T18:00:00Z";
const runs = `round,run,tag,driver,started_at,ended_at
r1,R1,A1,B1,${day}
r1,R1,A1,B1,${day}
r2,R1,A1,B1,${day}
r2,R2,A2,B1,15.6.26,2026-06-15T18:00:00Z
`;
const sightings = `time,facility,read_point,tag
2026-06-15T09:05:00Z,plant,dusk,A1
`;
const document = JSON.stringify({
  type: "ObjectEvent",
  action: "OBSERVE",
  eventTime: "2026-06-15T11:00:00Z",
  eventTimeZoneOffset: "+01:00",
  readPoint: { id: "urn:epc:id:sgln:9529999.10017.1" },
  epcList: ["urn:epc:id:sgtin:9529999.012345.1"],
});
const rest = `${legs}carrier: { column: driver, at: [left], within_s: 60 }
rounds: [{ id: r1 }, { id: r2 }]
epcis: { "urn:epc:id:sgln:9529999.10017.1": { facility: plant, read_point: desk } }
`;

/** What is wrong with runs and sightings of the folder above, whatever stands in the YAML. */
const inTables = [
  expect.stringContaining("warning epcis-codes-unknown crate/events.json"),
  expect.stringContaining("error run-item-twice crate/runs.csv:3:7"),
  expect.stringContaining("crate/runs.csv:5:13 started_at"),
  expect.stringContaining("error journey-read-point-unknown crate/sightings.csv:2:28"),
];

describe("a mistake in the YAML hides none of the runs and sightings", () => {
  const faults = async (yaml: string) => {
    const more = { "journeys/crate/events.json": document };
    return said(chainFiles({ yaml, runs, sightings, more }));
  };

  test.each([
    [
      "a number in words",
      heading + rest.replace("within_s: 600", "within_s: soon"),
      "value-type crate.yaml:4:64",
    ],
    [
      "a round without an id",
      heading + rest.replace("{ id: r2 }", "{ title: r2 }"),
      "key-missing crate.yaml:9:22",
    ],
    ["no legs", heading + rest.replace("legs:", "leg:"), "key-missing crate.yaml"],
    ["a bracket left open", `${heading}client: [Nobody\n${rest}`, "yaml-syntax crate.yaml"],
    [
      "a list",
      `- ${heading.replaceAll("\n", "\n  ")}${rest.replaceAll("\n", "\n  ")}`,
      "journey-blank crate.yaml",
    ],
  ])("%s", async (_what, yaml, own) => {
    const found = await faults(yaml);
    expect(found.filter((text) => text.includes("crate.yaml:"))[0]).toContain(own);
    expect(found.filter((text) => !text.includes("crate.yaml:"))).toEqual(inTables);
  });

  test("and one in an entry hides none of the others", async () => {
    const yaml = `${heading}${legs.replace("within_s: 600", "within_s: soon").replace("read_point: gate", "read_point: gaet")}${carrierRule}criteria:
  - { id: legs, measure: leg-sighting-rate, at_least: 98 }
  - { id: lag, measure: sighting-lag-quantile, quantile: 95, at_most: 9 }
  - { id: x, measure: journey-order, at_least: 0.9 }
`;
    expect((await faults(yaml)).filter((text) => text.includes("crate.yaml:"))).toEqual([
      expect.stringContaining("value-type crate.yaml:4:"),
      expect.stringContaining("journey-read-point-unknown crate.yaml:5:"),
      expect.stringContaining("limit-out-of-range crate.yaml:10:"),
      expect.stringContaining("quantile-out-of-range crate.yaml:11:"),
      expect.stringContaining("value-not-allowed crate.yaml:12:"),
    ]);
  });
});

describe("a mistake in a facility", () => {
  const files = chainFiles({
    runs: `run,tag,started_at,ended_at\nR1,A1,${day}\n`,
    sightings,
    yaml: heading + legs,
  });
  const problemsWith = async (broken: string, more: Record<string, string>) =>
    inFolder(
      { ...files, [`${broken}/facility.yaml`]: "name: [x\ntime_zone: UTC\n", ...more },
      async (data) => {
        const problems: Problem[] = [];
        for await (const read of readAll({ data, only: ["crate"] }, { step() {}, done() {} }))
          problems.push(...read.problems);
        return problems
          .map(({ code, file, line }) => `${code} ${file}:${line ?? "-"}`)
          .filter((text) => !text.startsWith("no-pass-log"));
      },
    );

  test("of a leg is told there, and the journey is not blamed for it", async () => {
    const row = "2026-06-15T09:05:00Z,plant,desk,A1\n";
    const found = await problemsWith("plant", {
      "journeys/crate/sightings.csv": `time,facility,read_point,tag\n${row}${row}`,
    });
    expect(found).toEqual([expect.stringContaining("yaml-syntax facility.yaml:2")]);
  });

  test("of no leg is told where a sighting names it, once", async () => {
    const row = "2026-06-15T09:05:00Z,shed,desk,A1\n";
    const found = await problemsWith("shed", {
      "journeys/crate/sightings.csv": `time,facility,read_point,tag\n${row}${row}`,
    });
    expect(found).toEqual(["sighting-facility-unknown journeys/crate/sightings.csv:2"]);
  });
});

test("a journey whose YAML is misspelt, or missing, is told how it is called", async () => {
  const files = {
    "journeys/a.yml": "",
    "journeys/a/runs.csv": "",
    "journeys/b/runs.csv": "",
    "journeys/c.YAML": "",
  };
  const { ids, problems } = await inFolder(files, listJourneys);
  expect(ids).toEqual([]);
  expect(problems.map(({ file, expected }) => `${file}: ${expected}`)).toEqual([
    'journeys/a.yml: the ending .yaml: "a.yaml"',
    "journeys/b: a YAML file of the same name, which says what the legs are",
    'journeys/c.YAML: the ending .yaml: "c.yaml"',
  ]);
});

test("a run without a sighting is told when its tags were seen instead", async () => {
  const known =
    "time,facility,read_point,tag\n2026-06-14T09:05:00Z,plant,desk,A1\n2026-06-16T10:00:00.5Z,depot,door,A1\n2026-06-15T10:00:00Z,plant,desk,A2\n";
  const own = `run,tag,started_at,ended_at\nR1,A1,${day}\nR2,A2,${day}\nR3,A3,${day}\n`;
  const found = await said(chainFiles({ yaml: heading + legs, runs: own, sightings: known }));
  expect(found.filter((text) => text.includes("run-without-sighting"))).toEqual([
    'warning run-without-sighting crate/runs.csv:2:1 run "R1" with 1 item and no sighting, though its tags were seen at other times, from 2026-06-14T09:05:00Z to 2026-06-16T10:00:00.500Z',
    'warning run-without-sighting crate/runs.csv:4:1 run "R3" with 1 item and no sighting',
  ]);
});

test("what people write for a day and for yes is told as it is to be written", async () => {
  const yaml = heading + legs.replace("optional: true", "optional: yes");
  const written = `run,tag,started_at,ended_at
R1,A1,16.03.2026 08:05:10,2026-06-15T18:00:00Z
R2,A2,05/06/2026 8:05,2026-06-15T18:00:00Z
`;
  const advice = await inFolder(chainFiles({ yaml, runs: written }), async (data) => {
    const problems: Problem[] = [];
    for await (const read of readAll({ data, only: ["crate"] }, { step() {}, done() {} }))
      problems.push(...read.problems);
    return problems
      .filter(({ file, severity }) => severity === "error" && file!.startsWith("journeys/"))
      .map((problem) => `${problem.expected}: ${problem.advice}`);
  });
  expect(advice).toEqual([
    expect.stringMatching(/^true or false: Write true\./),
    expect.stringMatching(/: Write the year first: 2026-03-16 08:05:10\.$/),
    expect.stringMatching(
      /: .*2026-06-05 08:05:00 if the day was in front, 2026-05-06 08:05:00 if the month was\.$/,
    ),
  ]);
});

test("a file of something else among the EPCIS documents is told to be taken out", async () => {
  const files = chainFiles({ runs: `run,tag,started_at,ended_at\nR1,A1,${day}\n`, yaml: heading + legs });
  const advice = await inFolder({ ...files, "journeys/crate/reads.json": '{"reads":[1]}' }, async (data) => {
    const problems: Problem[] = [];
    for await (const read of readAll({ data, only: ["crate"] }, { step() {}, done() {} }))
      problems.push(...read.problems);
    return problems.find(({ code }) => code === "epcis-event-refused")?.advice;
  });
  expect(advice).toContain("Take the file out of the journey's folder if it is no EPCIS document.");
});
