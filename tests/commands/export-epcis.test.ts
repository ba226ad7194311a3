import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { runCommandLine } from "../../src/commands/command-line.ts";

/*
 * What is written was held to the JSON schema of the standard's public repository by hand, with a validator of draft-07 and its formats: the
 * demonstration's export passes, and fails without an action. The schema's text is of its time; the ratified one could not be reached.
 */

const facility = (name: string, zone: string, points: string[]) => `name: ${name}
time_zone: ${zone}
report: { number: T-1, revision: A, issued: 2026-05-22 }
rounds: [{ id: r1, date: 2026-05-21 }]
read_points:
${points.map((id) => `  - { id: ${id}, name: ${id} }`).join("\n")}
`;

const journey = (more = "") => `title: Crates
report: { number: J-1, revision: B, issued: 2026-06-20 }
time_zone: Europe/Dublin
legs:
  - { id: left, facility: plant, read_point: dock }
  - { id: arrived, facility: depot, read_point: door }
carrier: { column: carrier, at: [left], within_s: 60 }
epcis:
  "urn:epc:id:sgln:0614141.00777.1": { facility: depot, read_point: door }
${more}`;

const crate = "3034257BF40C0E40000F4245";
const files = {
  "plant/facility.yaml": facility("Plant", "Europe/Dublin", ["dock"]),
  "depot/facility.yaml": facility("Depot", "America/Halifax", ["door"]),
  "journeys/crates.yaml": journey(),
  "journeys/crates/runs.csv": `run,tag,carrier,started_at,ended_at
R2,${crate},badge 7,2026-06-15 08:00:00,2026-06-15 20:00:00
R2,crate ä,badge 7,2026-06-15 08:00:00,2026-06-15 20:00:00
`,
  "journeys/crates/sightings.csv": `time,facility,read_point,tag,known_at
2026-06-15 08:10:00.000001,plant,dock,${crate},2026-06-15T07:10:02Z
2026-06-15 08:10:00.000001,plant,dock,crate ä,2026-06-15T07:10:02Z
2026-06-15 08:10:01,plant,dock,badge 7,
2026-06-15 09:00:00,depot,door,${crate},
2026-06-14 09:00:00,depot,door,${crate},
2026-06-15 09:00:00,depot,door,somebody else,
`,
};

interface Ended {
  exit: number;
  out: string;
  err: string;
}

async function run(given: Record<string, string>, words: string[]): Promise<Ended> {
  const data = mkdtempSync(join(tmpdir(), "proofwalk-export-"));
  try {
    for (const [path, text] of Object.entries(given)) {
      mkdirSync(dirname(join(data, path)), { recursive: true });
      writeFileSync(join(data, path), text);
    }
    const said = { out: "", err: "" };
    const exit = await runCommandLine([...words, "--data", data], {
      out: (text: string) => {
        said.out += text;
      },
      err: (text: string) => {
        said.err += text;
      },
      progress: () => {},
    } as never);
    return { exit, ...said };
  } finally {
    rmSync(data, { recursive: true });
  }
}

const exported = (given: Record<string, string>) => run(given, ["export", "epcis", "crates"]);

test("the document tells every sighting of the runs once, with the journey, the run and the input it rests on", async () => {
  const { exit, out } = await exported(files);
  expect(exit).toBe(0);
  const document = JSON.parse(out);
  const own = { "proofwalk:runs": ["R2"], "proofwalk:input": "journeys/crates/sightings.csv" };
  const observed = { type: "ObjectEvent", action: "OBSERVE", ...own };
  expect(document).toMatchObject({
    type: "EPCISDocument",
    schemaVersion: "2.0",
    creationDate: "2026-06-20T00:00:00Z",
  });
  expect(document["proofwalk:provenance"]).toMatchObject({
    "proofwalk:journey": "crates",
    "proofwalk:report": "J-1, revision B",
    "proofwalk:inputs": [
      "journeys/crates.yaml",
      "journeys/crates/runs.csv",
      "journeys/crates/sightings.csv",
    ].map((path) => ({
      "proofwalk:path": path,
      "proofwalk:sha256": expect.stringMatching(/^[0-9a-f]{64}$/),
    })),
  });
  expect(document.epcisBody.eventList).toEqual([
    {
      ...observed,
      eventTime: "2026-06-15T08:10:00.000001+01:00",
      eventTimeZoneOffset: "+01:00",
      recordTime: "2026-06-15T08:10:02.000000+01:00",
      epcList: ["https://proofwalk.invalid/tag/crate%20%C3%A4", "urn:epc:id:sgtin:0614141.012345.1000005"],
      readPoint: { id: "https://proofwalk.invalid/read-point/plant/dock" },
    },
    {
      ...observed,
      eventTime: "2026-06-15T08:10:01.000000+01:00",
      eventTimeZoneOffset: "+01:00",
      epcList: ["https://proofwalk.invalid/tag/badge%207"],
      readPoint: { id: "https://proofwalk.invalid/read-point/plant/dock" },
    },
    {
      ...observed,
      eventTime: "2026-06-15T09:00:00.000000-03:00",
      eventTimeZoneOffset: "-03:00",
      epcList: ["urn:epc:id:sgtin:0614141.012345.1000005"],
      readPoint: { id: "urn:epc:id:sgln:0614141.00777.1" },
    },
  ]);
});

test("what was written, read in place of the sightings, is written again word for word but for the name of the input", async () => {
  const { out } = await exported(files);
  const { "journeys/crates/sightings.csv": _, ...others } = files;
  const again = await exported({ ...others, "journeys/crates/sightings.json": out });
  const events = (text: string) =>
    JSON.stringify(JSON.parse(text).epcisBody).replaceAll("sightings.json", "sightings.csv");
  expect(again.exit).toBe(0);
  expect(events(again.out)).toBe(events(out));
});

test("a journey with pseudonyms is exported with numbers for its carriers", async () => {
  const { out } = await exported({ ...files, "journeys/crates.yaml": journey("pseudonyms: true\n") });
  expect(out).not.toContain("badge%207");
  expect(out).toContain("https://proofwalk.invalid/tag/badge%201");
});

test.each([
  [["export", "epcis", "cages"], 'There is no journey "cages"'],
  [["export", "crates"], "export needs the form and the journey"],
  [["export"], "export needs the form and the journey"],
])("%j is refused in plain words", async (words, text) => {
  await expect(run(files, words)).rejects.toThrow(text);
});

test("a journey with an error, or without a report, is not exported", async () => {
  const broken = await exported({ ...files, "journeys/crates/runs.csv": "run,tag\nR1,X\n" });
  expect([broken.exit, broken.out]).toEqual([2, ""]);
  expect(broken.err).toContain("started_at");
  const bare = await exported({ ...files, "journeys/crates.yaml": journey().replace(/^report.*\n/m, "") });
  expect([bare.exit, bare.out]).toEqual([2, ""]);
  expect(bare.err).toContain("add report.issued");
});
