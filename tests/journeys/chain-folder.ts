import { judgeAll } from "../../src/commands/data/judge-all.ts";
import { readAll } from "../../src/commands/data/read-all.ts";
import type { JourneyResult } from "../../src/model/journey/journey-result.ts";
import type { Problem } from "../../src/model/problem.ts";
import type { Result } from "../../src/model/result/result.ts";
import { type Files, inFolder } from "../intake/folder.ts";

/** Two facilities in two time zones, and a chain of four read points over them. */
const twoFacilities: Files = {
  "plant/facility.yaml": facilityYaml("Europe/Dublin", ["desk", "gate"]),
  "depot/facility.yaml": facilityYaml("America/St_Johns", ["door", "ceiling", "yard"]),
};

function facilityYaml(zone: string, points: readonly string[]): string {
  return `name: A place
time_zone: ${zone}
report: { number: T-1, revision: A, issued: 2026-06-20 }
rounds: [{ id: r1 }]
read_points: [${points.map((id) => (id === "yard" ? "{ id: yard, name: Yard behind the depot }" : `{ id: ${id} }`)).join(", ")}]
`;
}

export const legs = `legs:
  - { id: tagged, facility: plant, read_point: desk, within_s: 600 }
  - { id: left, facility: plant, read_point: gate, within_s: 3600 }
  - { id: arrived, facility: depot, read_point: door, within_s: 7200 }
  - { id: stored, facility: depot, read_point: ceiling, optional: true }
`;

export const heading = `title: A crate from plant to depot
report: { number: J-1, revision: A, issued: 2026-06-20 }
`;

export const carrierRule = "carrier: { column: carrier, at: [left, arrived], within_s: 60 }\n";

export const everyCriterion = `criteria:
  - { id: whole, measure: journey-complete-rate, at_least: 0.5 }
  - { id: legs, measure: leg-sighting-rate, at_least: 0.5, for_each: [leg] }
  - { id: order, measure: journey-order-rate, at_least: 0.5 }
  - { id: who, measure: carrier-sighting-rate, at_least: 0.5 }
  - { id: lag, measure: sighting-lag-quantile, quantile: 0.5, at_most: 60 }
`;

export interface Chain {
  yaml?: string;
  runs: string;
  sightings?: string;
  more?: Files;
}

/** The files of a data folder with one journey, `crate`. */
export function chainFiles({ yaml, runs, sightings, more = {} }: Chain): Files {
  return {
    ...twoFacilities,
    "journeys/crate.yaml": yaml ?? heading + legs + carrierRule + everyCriterion,
    "journeys/crate/runs.csv": runs,
    ...(sightings === undefined ? {} : { "journeys/crate/sightings.csv": sightings }),
    ...more,
  };
}

const silent = { step() {}, done() {} };

/** The journeys of a data folder, judged, and its facilities. */
export async function judged(
  files: Files,
  only: string[] = [],
): Promise<{ journeys: JourneyResult[]; facilities: Result[]; remarks: Problem[] }> {
  return inFolder(files, async (data) => {
    const journeys: JourneyResult[] = [];
    const remarks: Problem[] = [];
    const facilities: Result[] = [];
    const results = judgeAll({ data, only }, silent, {
      onJourney: (journey) => journeys.push(journey),
      onRemark: (problems) => remarks.push(...problems),
    });
    for await (const result of results) facilities.push(result);
    return { journeys, facilities, remarks };
  });
}

/** What is said of the files of journeys: code, file below journeys/, line and column, found. */
export async function said(files: Files, only: string[] = []): Promise<string[]> {
  return inFolder(files, async (data) => {
    const problems: Problem[] = [];
    for await (const read of readAll({ data, only }, silent)) problems.push(...read.problems);
    return problems
      .filter(({ file }) => file?.startsWith("journeys/"))
      .map(
        ({ severity, code, file, line, column, found }) =>
          `${severity} ${code} ${file!.slice("journeys/".length)}:${line ?? "-"}:${column ?? "-"} ${found}`,
      );
  });
}
