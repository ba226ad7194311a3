import { describe, expect, test } from "vitest";
import { runUnit } from "../../src/measures/measure.ts";
import { placedFinding } from "../../src/pages/journey/findings.ts";
import { remarkSentence, settleSentence } from "../../src/pages/words/findings.ts";
import { carrierRule, chainFiles, everyCriterion, heading, judged, legs, said } from "./chain-folder.ts";

const header = "run,tag,carrier,started_at,ended_at,void_reason\n";
const day = "2026-06-15T09:00:00Z,2026-06-15T18:00:00Z,";
const oneRun = `${header}R1,A1,B1,${day}\n`;
const seenAt = "time,facility,read_point,tag,known_at\n";
const oneSighting = `${seenAt}2026-06-15T09:05:00Z,plant,desk,A1,\n`;
const yamlOf = (text: string) => heading + text;

describe("the YAML of a journey", () => {
  const faults = async (yaml: string) => said(chainFiles({ yaml, runs: oneRun, sightings: oneSighting }));

  test("asks for what it says nothing of", async () => {
    expect(await faults("")).toEqual([
      expect.stringContaining("error journey-blank crate.yaml:1:1 an empty file"),
    ]);
    expect((await faults("title: X\n")).join("\n")).toMatch(/key-missing crate.yaml/);
  });

  test("names facilities and read points that there are", async () => {
    const elsewhere = legs.replace("facility: plant, read_point: desk", "facility: plnat, read_point: desk");
    expect(await faults(yamlOf(elsewhere))).toEqual([
      'error journey-facility-unknown crate.yaml:4:29 "facility": "plnat"',
    ]);
    expect(await faults(yamlOf(legs.replace("read_point: door", "read_point: dor")))).toEqual([
      expect.stringContaining("journey-read-point-unknown crate.yaml:6:"),
    ]);
  });

  test("has no two legs in a row at one read point, and not only optional ones", async () => {
    expect((await faults(yamlOf(legs.replace("read_point: gate", "read_point: desk"))))[0]).toContain(
      "journey-legs-alike crate.yaml:5:",
    );
    const optional = yamlOf("legs: [{ id: a, facility: plant, read_point: desk, optional: true }]\n");
    expect((await faults(optional))[0]).toContain("journey-legs-optional");
  });

  test("offers no measure of facilities, and facilities none of journeys", async () => {
    const foreign = `${legs}criteria: [{ id: x, measure: tag-read-rate, at_least: 0.9 }]\n`;
    expect((await faults(yamlOf(foreign)))[0]).toContain("value-not-allowed crate.yaml:8:");
    const files = chainFiles({ runs: oneRun, sightings: oneSighting });
    files["plant/facility.yaml"] += "criteria: [{ id: x, measure: journey-complete-rate, at_least: 0.9 }]\n";
    await expect(judged(files)).rejects.toMatchObject({
      problems: expect.arrayContaining([
        expect.objectContaining({ code: "value-not-allowed", advice: expect.stringContaining("journeys/") }),
      ]),
    });
  });

  test("asks for a carrier only where it has one, and for legs only where it counts them", async () => {
    expect((await faults(yamlOf(legs + everyCriterion)))[0]).toContain(
      "journey-carrier-missing crate.yaml:12:",
    );
    const lag =
      "criteria: [{ id: lag, measure: sighting-lag-quantile, quantile: 0.9, at_most: 9, legs: [left] }]\n";
    expect((await faults(yamlOf(legs + lag)))[0]).toContain("journey-legs-unused");
    const each = "criteria: [{ id: l, measure: leg-sighting-rate, at_least: 0.9, for_each: [speed] }]\n";
    expect((await faults(yamlOf(legs + each)))[0]).toContain("journey-for-each");
    const epcis = 'epcis: { "urn:epc:id:sgln:9529999.10017.1": nowhere }\n';
    expect((await faults(yamlOf(legs + epcis)))[0]).toContain("journey-epcis-place");
  });

  test("has a name that no facility has", async () => {
    const files = chainFiles({ runs: oneRun, sightings: oneSighting });
    const more = { "journeys/plant.yaml": files["journeys/crate.yaml"]! };
    expect((await said({ ...files, ...more })).join("\n")).toContain("error journey-name-taken plant.yaml");
  });
});

describe("runs.csv", () => {
  const faults = async (runs: string) => said(chainFiles({ runs, sightings: oneSighting }));

  test("is missed where it is not there", async () => {
    const { "journeys/crate/runs.csv": _, ...files } = chainFiles({ runs: "" });
    expect((await said(files)).join("\n")).toContain("warning journey-runs-missing crate/runs.csv");
    expect((await judged(files)).journeys[0]!.state).toBe("untested");
  });

  test("says when each run was, forwards, of each item once", async () => {
    expect(await faults(`${header}R1,,B1,${day}\n`)).toContain(
      'error run-cell-blank crate/runs.csv:2:4 tag = ""',
    );
    expect((await faults(`${header}R1,A1,B1,2026-06-15T18:00:00Z,2026-06-15T09:00:00Z,\n`))[0]).toContain(
      "run-ends-before-start crate/runs.csv:2:31",
    );
    expect((await faults(`${oneRun}R1,a1,B1,${day}\n`)).join("\n")).toContain("run-item-twice");
    expect((await faults(`${oneRun}R1,A1,B1,${day}\n`))[0]).toContain(
      "error run-item-twice crate/runs.csv:3:4",
    );
  });

  test("needs offsets where its facilities keep different clocks and no zone is stated", async () => {
    const local = `${header}R1,A1,B1,2026-06-15 09:00:00,2026-06-15 18:00:00,\n`;
    expect((await faults(local))[0]).toContain("time-without-zone crate/runs.csv:2:10");
    const zoned = yamlOf(`time_zone: Europe/Dublin\n${legs}${carrierRule}`);
    const { journeys } = await judged(chainFiles({ yaml: zoned, runs: local, sightings: oneSighting }));
    expect(journeys[0]!.items[0]!.startedAt).toBe("2026-06-15T08:00:00Z");
  });

  test("asks which hour is meant where the clocks are put back, and knows none where they are put forward", async () => {
    const zoned = yamlOf(`time_zone: Europe/Dublin\n${legs}${carrierRule}`);
    const night = (start: string, end: string) =>
      said(chainFiles({ yaml: zoned, runs: `${header}R1,A1,B1,${start},${end},\n`, sightings: oneSighting }));
    expect((await night("2026-10-25 01:30:00", "2026-10-25 09:00:00"))[0]).toContain("crate/runs.csv:2:10");
    expect((await night("2026-03-29 01:30:00", "2026-03-29 09:00:00"))[0]).toContain("crate/runs.csv:2:10");
    // With offsets nothing is unclear: the item is seen 25 minutes after its start, across the change.
    const { journeys } = await judged(
      chainFiles({
        yaml: zoned,
        runs: `${header}R1,A1,B1,2026-10-25T01:50:00+01:00,2026-10-25T09:00:00+00:00,\n`,
        sightings: `${seenAt}2026-10-25T01:00:00+00:00,plant,desk,A1,\n`,
      }),
    );
    expect(journeys[0]!.items[0]!.legs[0]).toMatchObject({
      state: "seen",
      afterS: 600,
      atLocal: "2026-10-25 01:00:00",
    });
  });

  test("remarks on runs void in part, items without carrier, and items on two runs at once", async () => {
    const found = await faults(
      `${header}R1,A1,B1,${day}\nR1,A2,B1,${day}rain\nR2,A3,,${day}\nR3,A1,B1,2026-06-15T10:00:00Z,2026-06-15T11:00:00Z,\n`,
    );
    expect(found.filter((text) => !text.includes("without-sighting"))).toEqual(
      [
        'warning runs-overlap crate/runs.csv:5:4 A1 on run "R3" and on run "R1" at once',
        'warning run-void-in-part crate/runs.csv:3:52 1 of 2 rows of run "R1" void',
        "warning run-carrier-blank crate/runs.csv:4:7 1 row without carrier",
      ].sort((a, b) => Number(a.split(":")[1]) - Number(b.split(":")[1])),
    );
  });
});

describe("sightings", () => {
  const faults = async (sightings: string) => said(chainFiles({ runs: oneRun, sightings }));

  test("name places that there are", async () => {
    expect((await faults(`${seenAt}2026-06-15T10:00:00Z,pland,desk,A1,\n`))[0]).toContain(
      "sighting-facility-unknown crate/sightings.csv:2:22",
    );
    expect((await faults(`${seenAt}2026-06-15T10:00:00Z,plant,dusk,A1,\n`))[0]).toContain(
      "journey-read-point-unknown crate/sightings.csv:2:28",
    );
  });

  test("that no run has, and runs that no sighting has, are said", async () => {
    expect(
      await faults(
        `${oneSighting}2026-06-15T10:00:00Z,plant,desk,Z1,\n2026-06-17T10:00:00Z,plant,desk,A1,\n`,
      ),
    ).toEqual([
      "warning sightings-without-run crate/sightings.csv:-:- 1 of tags that no run has, 1 while no run of their tag was under way, of 3 sightings",
    ]);
    const { journeys } = await judged(
      chainFiles({ runs: `${oneRun}R2,A2,B1,${day}\n`, sightings: oneSighting }),
    );
    expect(journeys[0]!.problems.map(({ code }) => code)).toEqual(["run-without-sighting"]);
    expect(journeys[0]!.remarks).toContainEqual({ code: "runs-without-sighting", runs: ["R2"], count: 1 });
  });

  test("that are nowhere at all are missed once", async () => {
    expect((await said(chainFiles({ runs: oneRun }))).join("\n")).toContain(
      "warning journey-sightings-missing",
    );
  });

  test("known before they were made point to two clocks", async () => {
    const { journeys } = await judged(
      chainFiles({
        runs: oneRun,
        sightings: `${seenAt}2026-06-15T10:00:00Z,plant,desk,A1,2026-06-15T09:59:00Z\n`,
      }),
    );
    expect(journeys[0]!.problems.map(({ code }) => code)).toContain("sighting-known-before-seen");
    expect(journeys[0]!.remarks).toContainEqual({ code: "known-before-seen", sightings: 1 });
  });

  test("that most items make the wrong way round over two facilities point to two clocks", async () => {
    const tags = ["A1", "A2", "A3", "A4", "A5", "A6"];
    const { journeys } = await judged(
      chainFiles({
        runs: header + tags.map((tag) => `R-${tag},${tag},B1,${day}\n`).join(""),
        sightings:
          seenAt +
          tags
            .map(
              (tag) => `2026-06-15T10:00:00Z,plant,gate,${tag},\n2026-06-15T09:57:00Z,depot,door,${tag},\n`,
            )
            .join(""),
      }),
    );
    expect(journeys[0]!.remarks).toContainEqual({
      code: "clocks-differ",
      from: "left",
      to: "arrived",
      items: 6,
      of: 6,
      medianS: -180,
    });
  });

  test("that two sources tell of are one, known by whichever was first", async () => {
    const document = JSON.stringify({
      type: "EPCISDocument",
      epcisBody: {
        eventList: [
          {
            type: "ObjectEvent",
            action: "OBSERVE",
            eventTime: "2026-06-15T11:00:00+01:00",
            recordTime: "2026-06-15T10:00:30Z",
            eventTimeZoneOffset: "+01:00",
            readPoint: { id: "urn:epc:id:sgln:9529999.10017.1" },
            epcList: ["urn:epc:id:sgtin:9529999.012345.1"],
          },
        ],
      },
    });
    const tag = "3034257BF7194E4000000001";
    const yaml = `${heading}${legs}epcis: { "urn:epc:id:sgln:9529999.10017.1": { facility: plant, read_point: desk } }\n`;
    const row = `2026-06-15T10:00:00.000Z,plant,desk,${tag}`;
    const { journeys } = await judged(
      chainFiles({
        yaml,
        runs: `run,tag,started_at,ended_at\nR1,${tag},2026-06-15T09:55:00Z,2026-06-15T18:00:00Z\n`,
        sightings: `${seenAt}${row},\n${row},2026-06-15T10:00:40Z\n`,
        more: { "journeys/crate/events.json": document },
      }),
    );
    const { counts, legs: found } = { counts: journeys[0]!.sightings, legs: journeys[0]!.legs };
    expect([counts.told, counts.used, counts.repeated]).toEqual([2 + counts.told - 2, 1, counts.told - 1]);
    expect([found[0]!.k, found[0]!.lag?.n]).toEqual([1, 1]);
  });

  test("lie only in files that are read", async () => {
    const more = { "journeys/notes.txt": "x", "journeys/crate/sightings.xlsx.bak": "x" };
    const found = await said(chainFiles({ runs: oneRun, sightings: oneSighting, more }));
    expect(found).toEqual([
      'warning journey-file-not-read notes.txt:-:- "notes.txt" in journeys/',
      'warning journey-file-not-read crate/sightings.xlsx.bak:-:- "sightings.xlsx.bak"',
    ]);
  });
});

describe("--only", () => {
  const files = chainFiles({ runs: oneRun, sightings: oneSighting });

  test("that leaves a facility of a journey out leaves the journey out, and says so", async () => {
    const { journeys, facilities, remarks } = await judged(files, ["plant"]);
    expect([journeys.length, facilities.map(({ facility }) => facility.id)]).toEqual([0, ["plant"]]);
    expect(remarks.map(({ code, found }) => [code, found])).toEqual([
      ["journey-left-out", 'legs in "depot", which --only leaves out'],
    ]);
  });

  test("that names neither a facility nor a journey is told both", async () => {
    const refused = await judged(files, ["crat"]).catch((fault: unknown) => fault);
    expect(refused).toMatchObject({
      problems: [
        {
          code: "facility-unknown",
          expected: 'a facility of the data folder: "depot", "plant"; or a journey: "crate"',
          advice: expect.stringContaining('Did you mean "crate"?'),
        },
      ],
    });
  });

  test("that names all facilities of a journey judges it, and so does its own name", async () => {
    expect((await judged(files, ["plant", "depot"])).journeys.map(({ id }) => id)).toEqual(["crate"]);
    const alone = await judged(files, ["crate"]);
    expect([alone.journeys.length, alone.facilities.length]).toEqual([1, 0]);
  });
});

test("an item on two journeys at once counts in both, and both say so", async () => {
  const yaml = heading + legs + carrierRule + everyCriterion;
  const more = {
    "journeys/pallet.yaml": yaml,
    "journeys/pallet/runs.csv": oneRun.replace("R1", "P1"),
    "journeys/pallet/sightings.csv": oneSighting,
  };
  const { journeys } = await judged(chainFiles({ runs: oneRun, sightings: oneSighting, more }));
  expect(journeys.map(({ id, legs: own }) => [id, own[0]!.k])).toEqual([
    ["crate", 1],
    ["pallet", 1],
  ]);
  expect(journeys.map(({ problems }) => problems.map(({ code }) => code))).toEqual([
    ["journeys-overlap"],
    ["journeys-overlap"],
  ]);
});

test("two rounds of a journey are compared leg by leg", async () => {
  const yaml = `${heading}rounds: [{ id: before }, { id: after }]\n${legs}criteria: [{ id: legs, measure: leg-sighting-rate, at_least: 0.5, for_each: [leg] }]\nplan: { tags_per_run: 20, expected_rate: 0.99 }\n`;
  const tags = Array.from({ length: 60 }, (_, i) => `A${i}`);
  const runsOf = (round: string) =>
    tags
      .map(
        (tag) =>
          `${round},${round}-${tag},${tag},${round === "before" ? "2026-06-15T09:00:00Z,2026-06-15T18:00:00Z" : "2026-06-16T09:00:00Z,2026-06-16T18:00:00Z"}\n`,
      )
      .join("");
  const { journeys } = await judged(
    chainFiles({
      yaml,
      runs: `round,run,tag,started_at,ended_at\n${runsOf("before")}${runsOf("after")}`,
      sightings: seenAt + tags.map((tag) => `2026-06-16T09:05:00Z,plant,desk,${tag},\n`).join(""),
    }),
  );
  const [journey] = journeys;
  expect(journey!.comparisons.map(({ measure, leg, change }) => [measure, leg, change])).toEqual([
    ["journey-complete-rate", null, "no-change-shown"],
    ["leg-sighting-rate", "tagged", "better"],
    ["leg-sighting-rate", "left", "no-change-shown"],
    ["leg-sighting-rate", "arrived", "no-change-shown"],
    ["leg-sighting-rate", "stored", "no-change-shown"],
    ["journey-order-rate", null, "not-comparable"],
  ]);
  expect(journey!.findings[0]).toMatchObject({ round: "after", estimate: { k: 60, n: 60 }, state: "met" });
  // As for a door: 20 items a run, each once, at least 0.5 with Wilson at 95 %.
  expect(journey!.plan!.findings[0]).toMatchObject({
    leg: "tagged",
    impossible: false,
    fewest: [{ faults: 0, runs: 1 }, {}, {}, {}],
  });
  expect([journey!.plan!.runs, journey!.plan!.runsDone]).toEqual([1, 60]);
});

test("a run that does not count for a measure is told what it lacks", async () => {
  const { journeys } = await judged(chainFiles({ runs: oneRun, sightings: oneSighting }));
  const settling = (criterion: string) =>
    settleSentence(placedFinding(journeys[0]!.findings.find((one) => one.criterion === criterion)!));
  expect(settling("order")).toBe("At least one run with an item seen on two legs is needed for a verdict.");
  expect(settling("lag")).toBe(
    "At least one run with a sighting that tells when the site knew of it (known_at) is needed for a verdict.",
  );
});

test("what a journey lacks is told in runs", async () => {
  const criterion =
    "criteria: [{ id: l, measure: leg-sighting-rate, at_least: 0.9, legs: [tagged], minimum_runs: 5 }]\n";
  const yaml = heading + legs + criterion;
  const { journeys } = await judged(chainFiles({ yaml, runs: oneRun, sightings: oneSighting }));
  const finding = placedFinding(journeys[0]!.findings[0]!);
  expect(settleSentence(finding)).toBe("At least four more runs are needed for a verdict.");
  expect(remarkSentence({ code: "one-cluster", dimension: "pass" }, [], runUnit)).toBe(
    "All presentations are in one run, so nothing is known about other runs.",
  );
});
