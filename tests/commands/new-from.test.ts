import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { writeXlsx } from "hucre/xlsx";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommandLine } from "../../src/commands/command-line.ts";
import { openFacility } from "../../src/intake/facility/facility.ts";
import { readFacility } from "../../src/intake/read-facility-folder.ts";

let room: string;
beforeEach(() => {
  room = mkdtempSync(join(tmpdir(), "proofwalk-new-"));
});
afterEach(() => rmSync(room, { recursive: true }));

function put(name: string, text: string): string {
  const path = join(room, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
  return path;
}

/** Runs `new` for the folder "depot" of the room. */
async function starting(...words: string[]) {
  const said = { out: "", err: "" };
  const status = await runCommandLine(["new", join(room, "depot"), ...words], {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    progress: () => {},
    watched: false,
    interrupted: () => new Promise(() => {}),
  });
  return { status, ...said, all: said.out.replace(/\s+/g, " ") };
}

const written = (name: string) => readFileSync(join(room, "depot", name), "utf8");

/** The problems of the folder that was written, but for what nobody could know. */
async function problems(): Promise<string[]> {
  const found = await readFacility(await openFacility(join(room, "depot")));
  return found.problems
    .filter(({ code }) => code !== "placeholder-unchanged")
    .map(({ severity, code, found: what }) => `${severity} ${code} ${what}`);
}

const codes = ["331645AA3C00194000070001", "331645AA3C00194000070002", "331645AA3C00194000070003"];

const walk = `round;pass;read_point;started_at;speed_m_s;load;tag;read;walked_by
as-left;P1;Dock 1;2026-03-12 10:00;0,8;full;${codes[0]};yes;Orla Fane
as-left;P1;Dock 1;2026-03-12 10:00;0,8;full;${codes[1]};no;Orla Fane
as-found;P1;Dock 1;2026-03-10 10:00;1,9;half;${codes[0]};yes;Orla Fane
as-found;P1;Dock 1;2026-03-10 10:00;1,9;half;${codes[1]};yes;Orla Fane
as-found;P1;Dock 2;2026-03-10 11:00;1,4;half;${codes[0]};yes;Orla Fane
`;
const load = `tag,orientation\n${codes[0]},flat\n${codes[1]},edge-on\n${codes[2]},flat\n`;
const timed = `round,pass,read_point,started_at,ended_at,manifest
as-left,P1,dock-1,2026-03-12T13:00:00Z,2026-03-12T13:00:08Z,cage-a
as-left,P2,dock-1,2026-03-12T13:02:00Z,2026-03-12T13:02:08Z,cage-a
`;
const reads = [
  ...codes.map((code, i) =>
    JSON.stringify({ first: 1773320401000000 + i, epc: code, ant: 1 + i, rssi: -52 - i }),
  ),
  ...codes.map((code, i) =>
    JSON.stringify({ first: 1773320521000000 + i, epc: code, ant: 1 + i, rssi: -55 - i }),
  ),
].join("\n");

describe("new from a pass log", () => {
  it("copies it as it is and writes its read points, rounds by date, and conditions, banded where they are numbers", async () => {
    const from = put("walks/Walk.csv", walk);
    expect(await starting("--from", from)).toMatchObject({ status: 0, err: "" });
    expect(written("passes/Walk.csv")).toBe(walk);
    expect(readFileSync(from, "utf8")).toBe(walk);
    const { facility } = (await readFacility(await openFacility(join(room, "depot")))).input!;
    expect(facility.rounds.map(({ id, date }) => [id, date])).toEqual([
      ["as-found", "2026-03-10"],
      ["as-left", "2026-03-12"],
    ]);
    expect(facility.readPoints.map(({ id }) => id)).toEqual(["Dock 1", "Dock 2"]);
    expect(facility.conditions).toEqual([
      { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0.5, 1, 1.5, 2] },
      { column: "load", label: "Load", unit: null, bands: null },
    ]);
    expect(facility.criteria.every(({ title }) => title.startsWith("Proposal: "))).toBe(true);
    // Nobody recorded strays in this log.
    expect(facility.criteria.map(({ measure }) => measure)).toEqual(["tag-read-rate"]);
    expect(await problems()).toEqual([expect.stringContaining("warning semicolon-separated")]);
  });

  it("says which ids look like one misspelt, and not those that number alike places", async () => {
    const log = `pass,read_point,round,tag,read\nP1,dock-1,as-found,T1,yes\nP2,dock-2,as-foudn,T1,yes\n`;
    const { all } = await starting("--from", put("a.csv", log));
    expect(all).toContain('"as-found" and "as-foudn" are two rounds');
    expect(all).not.toContain("two read points");
  });

  it("takes two rounds whose names differ by a mark for one misspelt", async () => {
    const log = "pass,read_point,round,tag,read\nP1,dock-1,as-left,T1,yes\nP2,dock-1,as_left,T1,yes\n";
    expect((await starting("--from", put("a.csv", log))).all).toContain(
      '"as-left" and "as_left" are two rounds',
    );
  });

  it("lets the dates of one log settle those of another that can be read both ways, and says that it guessed", async () => {
    const dated = (name: string, day: string) =>
      put(
        name,
        `Pass;Read point;Start;EPC;Read\n1;${name.slice(0, 1)};${day}/11/2026 09:00;${codes[0]};yes\n`,
      );
    await starting("--from", dated("a.csv", "12"), dated("b.csv", "13"));
    expect(written("facility.yaml")).toMatch(/^date_order: day-first +# guess/m);
    expect(written("facility.yaml")).toContain('date: "2026-11-12"');
    expect((await problems()).filter((problem) => problem.startsWith("error"))).toEqual([]);
  });

  it("leaves dates open that nothing settles: check asks for the order", async () => {
    const log = `pass,read_point,started_at,tag,read\nP1,dock-1,12/11/2026 09:00,${codes[0]},yes\n`;
    await starting("--from", put("a.csv", log));
    expect(written("facility.yaml")).not.toContain("date_order");
    expect(await problems()).toEqual([expect.stringMatching(/^error date-order-unclear/)]);
  });

  it("says which manifests and reader logs the logs want and nobody gave", async () => {
    const { all } = await starting("--from", put("timed.csv", timed));
    expect(all).toContain('The logs name "cage-a", and no such manifest was given');
    expect(all).toContain("no reader log was given");
  });
});

describe("new from a timed log, its load and the reader's own log", () => {
  const files = () => [put("in/timed.csv", timed), put("in/Cage A.csv", load), put("in/portal.jsonl", reads)];

  it("puts all three in their places, and nothing is left but the placeholders", async () => {
    const { all } = await starting("--from", ...files());
    // The load goes by the name that the log has for it.
    expect(all).toMatch(/manifests\/cage-a\.csv manifest, 3 tags, from \S+Cage A\.csv/);
    expect(written("reads/portal.jsonl")).toBe(reads);
    expect(await problems()).toEqual([]);
    const { facility, log } = (await readFacility(await openFacility(join(room, "depot")))).input!;
    expect(facility.readerLogs).toMatchObject([
      {
        files: ["reads/portal.jsonl"],
        readPoint: { readPoint: "dock-1" },
        columns: { time: "first", epc: ["epc"] },
      },
    ]);
    expect(facility.conditions.map(({ column }) => column)).toEqual(["orientation"]);
    expect(log.passes.map(({ id }) => id)).toEqual(["P1", "P2"]);
  });

  it("writes the entry that describe prints, with the read point it can tell, and says where it cannot", async () => {
    const second = timed
      .replaceAll("dock-1", "dock-2")
      .replaceAll("T13", "T14")
      .split("\n")
      .slice(1)
      .join("\n");
    const log = put("in/two.csv", `${timed}${second}`);
    const named = put("in/reader dock-2.jsonl", reads);
    const { all } = await starting(
      "--from",
      log,
      put("in/cage-a.csv", load),
      named,
      put("in/hall.jsonl", `${reads}\n`),
    );
    expect(written("facility.yaml")).toMatch(/read_point: dock-2 {2}# guess: going by the names/);
    expect(all).toContain('Where "reads/hall.jsonl" stands is not known');
    expect(await problems()).toEqual([expect.stringMatching(/^error reference-unknown .*"hall"/)]);
  });

  it("takes the read points from the reader's log where no pass log is given", async () => {
    const { all } = await starting("--from", put("in/portal.jsonl", reads));
    expect(all).toContain('Read points: "portal"');
    expect(written("passes/passes.csv")).toMatch(/^round,pass,read_point,.*\n$/);
    expect((await problems()).filter((problem) => problem.startsWith("error"))).toEqual([]);
  });
});

describe("new from a workbook and the reader's own log", () => {
  const table = (csv: string) =>
    csv
      .trim()
      .split("\n")
      .map((line) => line.split(","));

  it("takes each sheet for what it is, and one run of check shows nothing but the placeholders", async () => {
    const book = await writeXlsx({
      sheets: [
        { name: "Doors", rows: [["Walked on 12 March"], [], ...table(timed)] },
        { name: "Cage A", rows: table(load) },
        { name: "Ideas", rows: [["Turn the upper antenna"]] },
      ],
    });
    mkdirSync(join(room, "in"));
    writeFileSync(join(room, "in", "walk.xlsx"), book);
    const { all } = await starting("--from", join(room, "in", "walk.xlsx"), put("in/portal.jsonl", reads));
    expect(all).toContain("passes/walk.xlsx sheet Doors: pass log (timed), 2 passes");
    expect(all).toContain("manifests/cage-a.xlsx sheet Cage A: manifest, 3 tags");
    expect(all).toMatch(/walk\.xlsx, sheet Ideas: It is neither a pass log/);
    expect(await problems()).toEqual([expect.stringMatching(/^warning title-above-header/)]);
    const { facility, log } = (await readFacility(await openFacility(join(room, "depot")))).input!;
    expect(facility.sheets).toEqual({ "passes/walk.xlsx": ["Doors"], "manifests/cage-a.xlsx": ["Cage A"] });
    expect(facility.conditions.map(({ column }) => column)).toEqual(["orientation"]);
    expect(facility.rounds).toMatchObject([{ id: "as-left", date: "2026-03-12" }]);
    expect(log.passes.map(({ id }) => id)).toEqual(["P1", "P2"]);
  });
});

describe("new from files of which some are of no use", () => {
  it("says of each what is wrong with it and takes the others, a copy only once", async () => {
    const files = [
      put("walk.csv", walk),
      put("walk (1).csv", walk),
      put("quotes.csv", 'pass,read_point,tag,"read\nP1,dock-1,T1,yes\n'),
      put("notes.txt", "Bring the long ladder\nand the lift key\n"),
      put("late.csv", "round,pass,tag,read\nas-left,P1,T1,yes\n"),
      put(
        "list.csv",
        load.replace("tag,orientation", "tag,encoded_at").replace(/flat|edge-on/g, "2026-03-01 08:00:00"),
      ),
    ];
    const { status, all } = await starting("--from", ...files);
    expect(status).toBe(0);
    expect(all).toMatch(/walk \(1\)\.csv: It is a copy of \S+walk\.csv, byte for byte/);
    expect(all).toMatch(/notes\.txt: .*a pass log needs the columns pass and read_point/);
    expect(all).toMatch(/quotes\.csv: Found [^;]*quot/);
    expect(all).toMatch(/late\.csv: It looks like a pass log, but has no column "read_point"/);
    expect(all).toMatch(/manifests\/list\.csv manifest, 3 tags/);
    expect(readdirSync(join(room, "depot", "passes"))).toEqual(["walk.csv"]);
  });

  it("gives two files of one name different ones", async () => {
    const second = walk.replaceAll("Dock", "Gate");
    await starting("--from", put("a/walk.csv", walk), put("b/Walk.csv", second));
    expect(written("passes/walk.csv")).toBe(walk);
    expect(written("passes/Walk-2.csv")).toBe(second);
  });

  it.each([
    [
      "a file that is not there",
      () => [put("walk.csv", walk), join(room, "gone.csv")],
      /no file ".*gone\.csv"/,
    ],
    ["only files that nobody recognises", () => [put("a.txt", "nothing")], /no file was recognised.*a\.txt/s],
    ["an empty folder", () => [dirname(put("none/.hidden", ""))], /no file was recognised/],
  ])("writes nothing for %s", async (_, files, sentence) => {
    const said = await starting("--from", ...files());
    expect(said).toMatchObject({ status: 2, out: "" });
    expect(said.err).toMatch(sentence);
    expect(existsSync(join(room, "depot"))).toBe(false);
  });

  it("takes the files of a folder, and asks for the new folder first where a file stands in its place", async () => {
    put("logs/walk.csv", walk);
    expect((await starting("--from", join(room, "logs"))).status).toBe(0);
    const swapped = await runCommandLine(["new", join(room, "logs/walk.csv"), "--from", room], {
      out: () => {},
      err: (text) => expect(text).toContain("is a file. Name the new folder first"),
      progress: () => {},
      watched: false,
      interrupted: () => new Promise(() => {}),
    });
    expect(swapped).toBe(2);
  });
});

it("writes what is worth knowing of a reader's log above its entry, such as a second clock", async () => {
  const rows = Array.from({ length: 12 }, (_, i) => {
    const at = (second: number) => `2026-03-12T10:00:${String(second + i).padStart(2, "0")}Z`;
    return `${at(3)},${at(1)},${codes[i % 3]}`;
  });
  put("in/gate.csv", ["host,reader time,EPC", ...rows, ""].join("\n"));
  expect((await starting("--from", join(room, "in", "gate.csv"))).status).toBe(0);
  expect(written("facility.yaml")).toMatch(
    /^ {2}# Worth knowing: "reader time" is a second clock, 2 s behind "host" in the middle\. The/m,
  );
});
