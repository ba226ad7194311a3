import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { journeyJsonSchema } from "../../src/intake/journey/journey-schema.ts";
import { journeyResultSchema, journeyResultSchemaText } from "../../src/model/journey/journey-result.ts";
import { carrierRule, chainFiles, everyCriterion, heading, judged, legs } from "./chain-folder.ts";

/*
 * Counted by hand. Runs start at 09:00 and end at 18:00 in UTC; the plant's clock shows an hour more, the depot's two and a half less.
 *
 * A1 is seen everywhere in time; A2 is late at the door (13:00 is more than two hours after 10:00); A3 skips the gate, so that the door's time
 * counts from the desk; A4 is seen at the gate before the desk; A5 is seen nowhere; A6 is void and seen everywhere; A7 is seen at the desk
 * only, and in the yard, where it was not sent.
 */
const runs = `run,tag,carrier,started_at,ended_at,void_reason
R1,A1,B1,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
R1,A2,B1,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
R2,A3,B2,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
R2,A4,B2,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
R3,A5,B2,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
R4,A6,B2,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,it rained
R5,A7,,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,
`;

const sightings = `time,facility,read_point,tag,known_at
2026-06-15 10:05:00,plant,desk,A1,2026-06-15 10:05:10
2026-06-15 10:30:00,plant,gate,A1,
2026-06-15T09:30:40Z,plant,gate,B1,
2026-06-15 09:00:00,depot,door,A1,2026-06-15T11:30:30Z
2026-06-15 09:01:01,depot,door,B1,
2026-06-15 09:10:00,depot,ceiling,A1,
2026-06-15 10:10:00,plant,desk,A2,
2026-06-15 11:00:00,plant,gate,A2,
2026-06-15 10:30:00,depot,door,A2,
2026-06-15 10:00:00,plant,desk,A3,
2026-06-15 08:30:00,depot,door,A3,
2026-06-15 08:30:30,depot,door,B2,
2026-06-15 10:09:00,plant,desk,A4,
2026-06-15 10:07:00,plant,gate,A4,
2026-06-15 07:00:00,depot,door,A4,
2026-06-15 10:05:00,plant,desk,A6,2026-06-15 10:05:50
2026-06-15 10:30:00,plant,gate,A6,
2026-06-15 09:00:00,depot,door,A6,
2026-06-15 10:05:00,plant,desk,A7,
2026-06-15 09:00:00,depot,yard,A7,
2026-06-15 10:05:00,plant,desk,A1,2026-06-15 10:05:20
2026-06-15 09:00:00,depot,door,Z9,
2026-06-16 09:00:00,depot,door,A1,
`;

const whole = chainFiles({ runs, sightings });

describe("a journey counted by hand", async () => {
  const { journeys, facilities } = await judged(whole);
  const journey = journeys[0]!;
  const of = (criterion: string) =>
    journey.findings
      .filter((finding) => finding.criterion === criterion)
      .map(({ group, estimate: { k, n } }) => `${group?.leg ?? "-"} ${k} of ${n}`);

  test("sees on each leg what came in its time, of all rows that are not void", () => {
    expect(of("legs")).toEqual(["tagged 5 of 6", "left 3 of 6", "arrived 3 of 6", "stored 1 of 6"]);
    expect(journey.legs.map(({ id, k, n, late, outOfOrder }) => [id, k, n, late, outOfOrder])).toEqual([
      ["tagged", 5, 6, 0, 0],
      ["left", 3, 6, 0, 1],
      ["arrived", 3, 6, 1, 0],
      ["stored", 1, 6, 0, 0],
    ]);
  });

  test("is whole without an optional leg, and not where a leg was late", () => {
    expect(of("whole")).toEqual(["- 2 of 6"]);
    expect(journey.items.filter((item) => item.whole).map(({ tag }) => tag)).toEqual(["A1", "A4", "A6"]);
  });

  test("is in order where first sightings are, among items seen on two legs or more", () => {
    expect(of("order")).toEqual(["- 3 of 4"]);
    expect(journey.items.map(({ tag, inOrder }) => [tag, inOrder])).toEqual([
      ["A1", true],
      ["A2", true],
      ["A3", true],
      ["A4", false],
      ["A5", null],
      ["A6", true],
      ["A7", null],
    ]);
  });

  test("hears a carrier within its seconds of the item's first sighting, before or after", () => {
    // A1 at the gate (40 s) and not at the door (61 s); A2 at the gate only, not heard; A3 at the door (30 s); A4 at both, not heard.
    expect(of("who")).toEqual(["- 2 of 6"]);
  });

  test("takes delays from sightings that tell them, once each, and from no void row", () => {
    const lag = journey.findings.find(({ criterion }) => criterion === "lag")!;
    expect([lag.estimate.n, lag.estimate.value]).toEqual([2, 20]);
  });

  test("tells what was lost, and where it was seen last", () => {
    expect(
      journey.lost.map(({ item, missing, lastSeen }) => [
        journey.items[item]!.tag,
        missing.join(),
        lastSeen?.readPoint ?? null,
        lastSeen?.atLocal ?? null,
      ]),
    ).toEqual([
      ["A5", "tagged,left,arrived", null, null],
      ["A7", "left,arrived", "yard", "2026-06-15 09:00:00"],
    ]);
    expect(journey.wrongPlaces.map(({ item, readPoint }) => [journey.items[item]!.tag, readPoint])).toEqual([
      ["A7", "yard"],
    ]);
    const { readPoints } = journey.facilities.find(({ id }) => id === "depot")!;
    expect(readPoints).toContainEqual({ id: "yard", name: "Yard behind the depot" });
  });

  test("accounts for everything that was told", () => {
    expect(journey.sightings).toEqual({ told: 23, used: 20, repeated: 1, outsideRuns: 1, otherTags: 1 });
  });

  test("keeps void rows, shows them, and says what they would change", () => {
    expect(journey.items.find(({ tag }) => tag === "A6")).toMatchObject({
      voidReason: "it rained",
      whole: true,
    });
    expect(journey.roundResults[0]).toMatchObject({ runs: 4, items: 6, voidRuns: 1, voidItems: 1 });
    const finding = journey.findings.find(({ criterion }) => criterion === "whole")!;
    expect([finding.withVoids!.k, finding.withVoids!.n, finding.voidPasses]).toEqual([3, 7, 1]);
  });

  test("is clustered by run and by tag", () => {
    const { estimate } = journey.findings.find(({ criterion }) => criterion === "whole")!;
    // Runs of 2, 2, 1 and 1 items: at most 6 / (1 + (10 / 6 - 1) 0.02).
    expect(estimate.effectiveN!).toBeLessThanOrEqual(6 / (1 + (10 / 6 - 1) * 0.02));
    expect(journey.findings[0]!.passes).toBe(4);
  });

  test("promises nothing where a read point was never walked, and says so", () => {
    expect(journey.promise).toMatchObject({ product: null, missing: ["tagged", "left", "arrived"] });
    expect(journey.remarks.map(({ code }) => code)).toEqual(["not-walked", "runs-without-sighting"]);
  });

  test("leaves its facilities as they are", () => {
    expect(facilities.map(({ facility, state }) => [facility.id, state])).toEqual([
      ["depot", "untested"],
      ["plant", "untested"],
    ]);
  });

  test("has the keys of its schema, and the schema is the committed one", () => {
    expect(journeyResultSchema.strict().safeParse(journey).error).toBeUndefined();
    const committed = readFileSync("schemas/journey-result.schema.json", "utf8");
    expect(committed).toBe(journeyResultSchemaText());
    expect(JSON.parse(readFileSync("schemas/journey.schema.json", "utf8"))).toEqual(journeyJsonSchema());
  });

  test("does not depend on the order of rows", async () => {
    const reversed = (text: string) => {
      const [head, ...rows] = text.trim().split("\n");
      return `${[head, ...rows.reverse()].join("\n")}\n`;
    };
    const again = await judged(chainFiles({ runs: reversed(runs), sightings: reversed(sightings) }));
    const bare = ({ inputs: _, problems: __, ...rest }: (typeof journeys)[0]) => rest;
    expect(bare(again.journeys[0]!)).toEqual(bare(journey));
  });
});

test("a leg at the read point of an earlier leg takes what comes after a leg in between", async () => {
  const back = `${heading}legs:
  - { id: out, facility: plant, read_point: gate }
  - { id: there, facility: depot, read_point: door }
  - { id: home, facility: plant, read_point: gate }
${everyCriterion.replace(/.*id: who,.*\n/, "")}`;
  const { journeys } = await judged(
    chainFiles({
      yaml: back,
      runs: "run,tag,started_at,ended_at\nR1,A1,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z\nR2,A2,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z\n",
      sightings: `time,facility,read_point,tag
2026-06-15T09:10:00Z,plant,gate,A1
2026-06-15T09:10:05Z,plant,gate,A1
2026-06-15T12:00:00Z,depot,door,A1
2026-06-15T15:00:00Z,plant,gate,A1
2026-06-15T09:10:00Z,plant,gate,A2
2026-06-15T15:00:00Z,plant,gate,A2
`,
    }),
  );
  expect(journeys[0]!.legs.map(({ id, k, n }) => [id, k, n])).toEqual([
    ["out", 2, 2],
    ["there", 1, 2],
    ["home", 1, 2],
  ]);
});

test("pseudonyms stand for carriers in everything that is made of a journey", async () => {
  const people = "prepared_by: { name: Una Drisk, organisation: Firm }\npseudonyms: true\n";
  const yaml = heading + people + legs + carrierRule + everyCriterion;
  const { journeys } = await judged(chainFiles({ yaml, runs, sightings }));
  const text = JSON.stringify(journeys[0]);
  expect(text).not.toMatch(/"B1"|"B2"|Una Drisk/);
  expect(journeys[0]!.items[0]!.carrier).toBe("badge 1");
  expect(journeys[0]!.preparedBy!.name).toBe("U.D.");
  expect(journeys[0]!.roundResults[0]!.carrierRate).toMatchObject({ k: 2, n: 6 });
});
