import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fewestPasses } from "../../../src/analysis/plan/sample-size.ts";
import { openFacility } from "../../../src/intake/facility/facility.ts";
import { readFacility } from "../../../src/intake/read-facility-folder.ts";
import { emptyLog, exampleStart } from "../../../src/intake/start/example-start.ts";
import { facilityText, intervalReason } from "../../../src/intake/start/facility-text.ts";
import { intervals } from "../../../src/intervals/index.ts";
import { passesWithoutMiss } from "../../../src/intervals/passes-without-miss.ts";
import { placeholders } from "../../../src/model/placeholders.ts";
import { plannedWalk } from "../../analysis/plan/planned.ts";
import { judged, said } from "../../journeys/chain-folder.ts";
import { errors, type Files, read } from "../folder.ts";

const examples = "templates/new-facility/examples";

/** The files of the examples but for their README. */
const exampleFiles = () =>
  readdirSync(examples, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name !== "README.md")
    .map((entry) => join(entry.parentPath, entry.name).slice(examples.length + 1));

describe("the examples that new writes", () => {
  it("are a facility without a problem, with a log of every form, a manifest, a plan, a floor plan, a power log and a reader log", async () => {
    const { input, problems } = await readFacility(await openFacility(examples));
    expect(problems).toEqual([]);
    expect(new Set(input!.log.passes.map(({ form }) => form))).toEqual(
      new Set(["itemised", "listed", "tally", "timed"]),
    );
    expect(input!.plannedLoad).not.toBeNull();
    expect(input!.log.power.map(({ steps }) => steps.length)).toEqual([6]);
    expect(input!.facility.floorPlan).not.toBeNull();
    expect(input!.inputs.filter(({ reader }) => reader !== undefined)).toHaveLength(1);
  });

  it("are explained in their README, file by file, which says that they are not read", () => {
    const readme = readFileSync(join(examples, "README.md"), "utf8");
    expect(readme).toContain("Nothing in this folder is read for your facility");
    for (const file of exampleFiles()) expect(readme).toContain(`\`${file}\``);
  });
});

describe("the journey among the examples that new writes", () => {
  const named = (kept: (name: string) => boolean): Files =>
    Object.fromEntries(
      exampleFiles().flatMap((name) =>
        kept(name) ? [[name, readFileSync(join(examples, name), "utf8")]] : [],
      ),
    );
  const isOfJourney = (name: string) => name.startsWith("journeys/");
  const beside = (facility: Files, change = (text: string) => text): Files => {
    const own = Object.entries(named(isOfJourney)).map(([name, text]) => [name, change(String(text))]);
    return { ...facility, ...Object.fromEntries(own) };
  };
  const points = ["desk-1", "gate-1", "dock-1"].map((id) => ({ id, name: id, kind: null }));
  const mine = {
    "my-hall/facility.yaml": facilityText({ ...exampleStart("Europe/Lisbon"), readPoints: points }),
  };

  it("is judged without a problem beside the facility that it names", async () => {
    const facility = Object.entries(named((name) => !isOfJourney(name)));
    const sound = beside(Object.fromEntries(facility.map(([name, text]) => [`examples/${name}`, text])));
    expect(await said(sound)).toEqual([]);
    const [journey] = (await judged(sound)).journeys;
    const counts = journey!.findings.map(({ criterion, estimate: { k, n } }) => `${criterion} ${k} of ${n}`);
    expect(counts.slice(0, 4)).toEqual(["whole 4 of 5", "legs 5 of 5", "legs 3 of 5", "legs 4 of 5"]);
    expect(journey!.plan!.runs).toBeGreaterThan(1);
  });

  it("asks for the facility in each leg and sighting beside another one, and for nothing once it is there", async () => {
    const asked = await said(beside(mine));
    expect(new Set(asked.map((text) => text.replace(/:\d+:\d+ /, " ")))).toEqual(
      new Set([
        'error journey-facility-unknown crates-out.yaml "facility": "examples"',
        'error sighting-facility-unknown crates-out/sightings.csv facility = "examples"',
      ]),
    );
    const filled = beside(mine, (text) =>
      text.replaceAll("facility: examples", "facility: my-hall").replaceAll(",examples,", ",my-hall,"),
    );
    expect(await said(filled)).toEqual([]);
  });
});

describe("the facility.yaml that new writes", () => {
  it("has no problem but its placeholders and the empty log, and every placeholder is in it", async () => {
    const text = facilityText(exampleStart("Europe/Dublin"));
    for (const placeholder of Object.values(placeholders)) expect(text).toContain(placeholder);
    const { problems } = await read({ "facility.yaml": text, "passes/passes.csv": emptyLog });
    expect(errors(problems)).toEqual([]);
    expect(new Set(problems.map(({ code }) => code))).toEqual(
      new Set(["placeholder-unchanged", "file-without-rows"]),
    );
    const found = problems.map((problem) => problem.found).join("\n");
    for (const placeholder of Object.values(placeholders)) expect(found).toContain(placeholder);
  });

  it("chooses beta-binomial, and says why and at which price, as plan counts it", () => {
    const text = facilityText(exampleStart("Europe/Dublin"));
    expect(text).toMatch(/^interval: beta-binomial$/m);
    expect(text.replaceAll("\n# ", " ")).toContain(intervalReason());
    expect(intervalReason()).toContain(
      "to show 99 % without a miss takes 22 passes of 40 tags (17 with wilson, 17 with exact and 38 with any-time)",
    );
    for (const interval of intervals.all()) {
      const basis = { interval: interval.id, confidence: 0.95, missCorrelation: 0.02 };
      const planned = fewestPasses(plannedWalk({ basis }), 0);
      expect(passesWithoutMiss(interval, { tags: 40, limit: 0.99 }, basis)).toBe(planned);
    }
  });
});
