import { execFile } from "node:child_process";
import { cp, mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { beforeAll, expect, test } from "vitest";
import type { JourneyResult } from "../../src/model/journey/journey-result.ts";
import type { Result } from "../../src/model/result/result.ts";
import { journeyFolder } from "../../src/pages/journey/journey-context.ts";
import { facilityFolder } from "../../src/pages/parts/paths.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { type BuiltSite, openSite } from "../browser/built-site.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

const run = promisify(execFile);

/** Where a date by the local clock is often another one than here, and numbers and words are sorted and written otherwise. */
const env = { ...process.env, TZ: "America/St_Johns", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };

/** The demonstration with every pass log and manifest turned upside down, built by the program elsewhere. */
let original: BuiltSite;
let here: BuiltSite;

beforeAll(async () => {
  const room = await mkdtemp(join(tmpdir(), "proofwalk-elsewhere-"));
  const data = join(room, "data");
  await cp("data", data, { recursive: true });
  here = await demonstrationSite();
  for (const { facility, inputs } of here.results) {
    // Readers' own logs have comments, headers of many kinds and torn lines: their order is tested where they are read.
    for (const { path } of inputs.filter((input) => /^(passes|manifests)\//.test(input.path))) {
      const file = join(data, facility.id, path);
      const [header, ...rows] = (await readFile(file, "utf8")).trimEnd().split(/\r?\n/);
      await writeFile(file, [header, ...rows.reverse(), ""].join("\n"));
    }
  }
  const out = join(room, "site");
  await run(process.execPath, ["dist/src/cli.js", "build", "--data", data, "--out", out], { env });
  original = await openSite(out);
}, 180_000);

const journeyOf = async ({ folder }: BuiltSite): Promise<JourneyResult> =>
  JSON.parse(await readFile(join(folder, journeyFolder("crate-to-depot"), "result.json"), "utf8"));

test("the tests run in one time zone and locale, and the other site was built in others", async () => {
  const said =
    "const { timeZone, locale } = Intl.DateTimeFormat().resolvedOptions(); JSON.stringify([timeZone, locale])";
  const { stdout } = await run(process.execPath, ["-p", said], { env });
  const local = Intl.DateTimeFormat().resolvedOptions();
  expect(JSON.parse(stdout)).toEqual(["America/St_Johns", "de-DE"]);
  expect([local.timeZone, local.locale]).toEqual(["Australia/Adelaide", "en-US"]);
});

test("neither the place nor the order of the rows changes a result, but for the hashes of the logs", async () => {
  const hashes = ({ inputs }: Result) => inputs.map(({ sha256 }) => sha256);
  const counts = ({ inputs }: Pick<Result, "inputs">) =>
    inputs.map(({ path, rows, used, void: voided }) => ({ path, rows, used, voided }));
  const withoutHashes = (result: Result) => ({
    ...result,
    problems: result.problems.map((problem) => ({ ...problem, line: null })),
    inputs: counts(result),
  });
  const journeyWithoutHashes = (journey: JourneyResult) => ({
    ...journey,
    facilities: journey.facilities.map((facility) => ({ ...facility, inputs: counts(facility) })),
  });
  expect(original.results.flatMap(hashes)).not.toEqual(here.results.flatMap(hashes));
  expect(original.results.map(withoutHashes)).toEqual(here.results.map(withoutHashes));
  expect(journeyWithoutHashes(await journeyOf(original))).toEqual(
    journeyWithoutHashes(await journeyOf(here)),
  );
  expect([...original.files]).toEqual([...here.files]);
});

test("the archived results and input files alone give the whole site again, byte for byte, in another time zone and locale", async () => {
  const again = join(await mkdtemp(join(tmpdir(), "proofwalk-again-")), "site");
  const chain = join(original.folder, journeyFolder("crate-to-depot"));
  const journey = await journeyOf(original);
  const { id, title, legs } = journey;
  await writeSite(original.results, again, {
    inputsOf: (facility) => {
      const own = join(original.folder, facilityFolder(facility), "inputs");
      return { own, journeys: own };
    },
    journeys: {
      legs: legs.map(({ id: leg, facility, readPoint }) => ({
        journey: id,
        title,
        leg,
        facility,
        readPoint,
      })),
      results: () => [journey],
      inputsFrom: join(chain, "inputs"),
    },
  });
  const contents = (folder: string) => readFile(join(folder, "contents.sha256"), "utf8");
  const listed = await contents(original.folder);
  expect(listed.split("\n").length).toBeGreaterThan(50);
  expect(await contents(again)).toBe(listed);
}, 120_000);
