import { describe, expect, test } from "vitest";
import { placedProblems } from "../../../src/intake/csv/placed-problems.ts";
import { joinSightings, openJourneyDatabase } from "../../../src/intake/journey/join.ts";
import { readSightings } from "../../../src/intake/journey/sightings.ts";
import { SightingColumns } from "../../../src/intake/journey/told.ts";
import { ProblemList } from "../../../src/intake/problems/problem-list.ts";
import type { JourneyFacility } from "../../../src/model/journey/journey.ts";
import { inFolder } from "../folder.ts";

const facility = (id: string, timeZone: string | null, points: string[]): JourneyFacility => ({
  id,
  name: id,
  pseudonyms: false,
  source: { path: `${id}/facility.yaml`, sha256: "", bytes: 0, rows: null, used: null, void: null },
  timeZone,
  readPoints: points.map((point) => ({ id: point, name: point, kind: null })),
});
const facilities = new Map<string, JourneyFacility | null>([
  ["plant", facility("plant", "Europe/Dublin", ["desk", "gate"])],
  ["depot", facility("depot", "America/St_Johns", ["door"])],
  ["yard", facility("yard", null, ["post"])],
]);
const codes = ["A1", "A2", "3034257BF7194E40000000A1"];
const day = Date.UTC(2026, 2, 29) * 1000;
const rows = codes.map((_, tag) => ({
  round: 0,
  run: "R1",
  tag,
  carrier: -1,
  fromUs: day - 86_400_000_000,
  toUs: day + 2 * 86_400_000_000,
  voidReason: null,
  note: null,
}));

/** What is read of a table, row by row or in one go, with all that is said of it. */
async function read(text: string | Buffer, largeBytes: number) {
  return inFolder({ "s.csv": text }, async (folder) => {
    const onDisk = `${folder}/s.csv`;
    const problems = new ProblemList(null);
    const told = new SightingColumns();
    const database = await openJourneyDatabase(onDisk);
    try {
      const tags = new Map(codes.map((code, number) => [code, number]));
      const years = { first: 2025, last: 2027 };
      const file = { path: "s.csv", onDisk };
      const ofLegs = new Set<string>();
      const task = { file, tags, facilities, ofLegs, told, database, years, largeBytes };
      const input = await readSightings(task, problems);
      const inMemory = told.columns.tag.length;
      const { sightings, counts } = await joinSightings(database, rows, { told, carrierS: 0 });
      const seen = Array.from({ length: sightings.length }, (_, i) => {
        const { facility, readPoint } = sightings.places[sightings.place[i]!]!;
        return [sightings.tag[i], facility, readPoint, sightings.timeUs[i], sightings.knownUs[i]].join(" ");
      });
      return {
        told: { input, seen, counts, problems: await placedProblems(problems, folder) },
        isQuick: inMemory === 0,
      };
    } finally {
      database.close();
    }
  });
}

const header = "time,facility,read_point,tag,known_at\n";
const sound = `${header}2026-03-29T08:00:00Z,plant,desk,A1,
2026-03-29T08:00:00Z,plant,desk,A1,2026-03-29T08:00:05Z
2026-03-29 10:00:00,plant,gate,a1,2026-03-29 10:00
2026-03-29T10:30:00.25+01:00,plant,gate, A2 ,2026-03-29T10:30:00.25+01:00
2026-03-29T06:00:00,depot,door,urn:epc:tag:sgtin-96:1.0614141.112345.161,
2026-03-29 06:00:00.123456,depot,door,3034 257B F719 4E40 0000 00A1,
2026-03-29T12:00:00-02:30,yard,post,"A2",2026-03-29T15:00:00Z
2030-01-01T00:00:00Z,yard,post,A2,
`;

const early = `${header}2026-03-29T08:00:00Z,plant,desk,A1,2026-03-29T08:00:00Z

2026-03-29T08:00:00Z,plant,gate,"A1",2026-03-29T07:00:00+01:00
2026-03-29T08:00:00Z,plant,gate,A2,
2026-03-29 09:00:00,plant,desk,other tag,2026-03-29 08:59:59.999999
2026-03-29T08:00:00Z,plant,desk,A2,2026-03-29T08:00:01Z
`;

describe("a large table of sightings", () => {
  test("tells the same in one go as row by row", async () => {
    const quick = await read(sound.replace("2026-03-29 10:00\n", "2026-03-29 10:00:00\n"), 0);
    const slow = await read(
      sound.replace("2026-03-29 10:00\n", "2026-03-29 10:00:00\n"),
      Number.POSITIVE_INFINITY,
    );
    expect([quick.isQuick, slow.isQuick]).toEqual([true, false]);
    expect(quick.told).toEqual(slow.told);
    expect(quick.told.seen).toHaveLength(5);
    expect(quick.told.counts).toMatchObject({ told: 8, used: 5, repeated: 1, outsideRuns: 1, otherTags: 1 });
  });

  test("tells two places of one instant in the order of their names, whichever stands first", async () => {
    const lines = ["yard,post", "plant,gate", "depot,door", "plant,desk"].map(
      (place) => `2026-03-29T08:00:00Z,${place},A1,\n`,
    );
    for (const largeBytes of [0, Number.POSITIVE_INFINITY]) {
      const { told } = await read(`${header}${lines.join("")}`, largeBytes);
      const places = told.seen.map((text) => text.split(" ").slice(1, 3).join(" "));
      expect(places).toEqual(["depot door", "plant desk", "plant gate", "yard post"]);
    }
  });

  test.each([
    ["a clock without seconds", sound, false],
    ["line ends of another system", sound.replace("2026-03-29 10:00\n", "\n").replaceAll("\n", "\r\n"), true],
    [
      "a byte order mark and another column",
      `\ufeff${header.replace("\n", ",note\n")}2026-03-29T08:00:00Z,plant,desk,A1,,x\n`,
      true,
    ],
    [
      "a quoted mark in another column",
      `${header.replace("\n", ",note\n")}2026-03-29T08:00:00Z,plant,desk,A1,,"an ""x"""\n`,
      false,
    ],
    ["semicolons", sound.replaceAll(",", ";"), false],
    ["a title", `Sightings of March\n${sound}`, false],
    ["a clock that the night skipped", `${header}2026-03-29 01:30:00,plant,desk,A1,\n`, false],
    ["a clock without a zone", `${header}2026-03-29 01:30:00,yard,post,A1,\n`, false],
    ["a day that the calendar lacks", `${header}2026-02-30T01:30:00Z,yard,post,A1,\n`, false],
    ["an hour that the day lacks", `${header}2026-02-28T24:00:00Z,yard,post,A1,\n`, false],
    ["an offset of hours alone", `${header}2026-02-28T12:00:00+01,yard,post,A1,\n`, false],
    ["a place that nobody knows", `${header}2026-03-29T08:00:00Z,plant,dsk,A1,\n`, false],
    ["a code that a spreadsheet spoilt", `${header}2026-03-29T08:00:00Z,plant,desk,3.08E+23,\n`, false],
    ["a blank tag", `${header}2026-03-29T08:00:00Z,plant,desk,,\n`, false],
    ["a blank time", `${header},plant,desk,A1,\n`, false],
    ["two clocks", `${header}2026-03-29T08:00:00Z,plant,desk,A1,2026-03-29T07:00:00Z\n`, true],
    ["two clocks, in two rows of several with blank lines between", early, true],
    ["two clocks, and line ends of another system", early.replaceAll("\n", "\r\n"), true],
    ["two clocks, and no line end behind the last row", early.trimEnd(), true],
    ["a line end in a tag", `${header}2026-03-29T08:00:00Z,plant,desk,"A\n1",\n`, false],
    ["a place with blanks around it", `${header}2026-03-29T08:00:00Z, plant,desk,A1,\n`, false],
    ["a cell too many", `${header}2026-03-29T08:00:00Z,plant,desk,A1,,x\n`, false],
    ["a cell too few", `${header}2026-03-29T08:00:00Z,plant,desk\n`, false],
    ["an open quote", `${header}2026-03-29T08:00:00Z,plant,desk,"A1,\n`, false],
    ["the header again", `${sound}${header}`, false],
    ["no rows", header, false],
    [
      "bytes that are no text",
      Buffer.from(`${header}2026-03-29T08:00:00Z,plant,desk,A\xff,\n`, "latin1"),
      false,
    ],
    ["a NUL byte", `${header}2026-03-29T08:00:00Z,plant,desk,A1\0,\n`, false],
  ] as const)("with %s tells the same, and what is wrong with it", async (_, text, isQuick) => {
    const [quick, slow] = [await read(text, 0), await read(text, Number.POSITIVE_INFINITY)];
    expect(quick.told).toEqual(slow.told);
    expect(quick.isQuick && quick.told.seen.length > 0).toBe(isQuick);
  });
});
