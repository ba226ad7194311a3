import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { criterion, type WalkedRow, walkedFacility } from "../walked.ts";

/** Twenty passes of six tags of each model, side by side; a model's tags are missed where the test says so. */
function trial(missed: (model: string, tag: number, pass: number) => boolean): WalkedRow[] {
  return Array.from({ length: 20 }, (_, pass) =>
    ["broad", "narrow", "round"].flatMap((model) =>
      Array.from({ length: 6 }, (_, tag) => ({
        pass: `${pass}`,
        tag: `${model}-${tag}`,
        columns: { model },
        read: !missed(model, tag, pass),
        rssiDbm: model === "narrow" ? -60 : -50,
      })),
    ),
  ).flat();
}

function diagnosed(rows: WalkedRow[]) {
  const depot = walkedFacility({ compareTags: "model", criteria: [criterion({ limit: 0.9 })] }, rows);
  return diagnose(depot, depot.facility.readPoints[0]!);
}

/** Each narrow tag is missed in four passes of twenty, and not all in the same ones. */
const narrowIsBad = trial((model, tag, pass) => model === "narrow" && (pass + tag) % 5 === 0);

test("each model has its rate, its signal and the verdict that choosing it would bring", () => {
  const { tagTrials } = diagnosed(narrowIsBad).why!;
  expect(tagTrials!.column).toBe("model");
  expect(
    tagTrials!.models.map(({ model, tags, presented, read, medianDbm, state }) => [
      ...[model, tags, presented, read, medianDbm, state],
    ]),
  ).toEqual([
    ["broad", 6, 120, 120, -50, "met"],
    ["round", 6, 120, 120, -50, "met"],
    ["narrow", 6, 120, 96, -60, "not-met"],
  ]);
});

test("models whose tags are all read worse are told apart from the others, which are not told apart", () => {
  const { pairs } = diagnosed(narrowIsBad).why!.tagTrials!;
  // All six tags of one model below all six of the other, equal among themselves: U = 0 of 36, variance 36/12 (13 - 420/132) = 29.45, z = 17.5/5.427.
  const p = 0.00126;
  expect(pairs.map(({ first, second, toldApart }) => [first, second, toldApart])).toEqual([
    ["broad", "narrow", true],
    ["narrow", "round", true],
    ["broad", "round", false],
  ]);
  expect(pairs[0]!.p).toBeCloseTo(p, 4);
  expect(pairs[0]!.pAdjusted).toBeCloseTo(3 * pairs[0]!.p, 12);
  expect(pairs[0]).toMatchObject({ passes: 20 });
  expect(pairs[0]!.difference).toBeCloseTo(0.2, 12);
  expect(pairs[2]).toMatchObject({ difference: 0, p: 1, pAdjusted: 1 });
  // No miss at all is no proof of no difference.
  expect(pairs[2]!.lower).toBeLessThan(0);
  expect(pairs[2]!.upper).toBeGreaterThan(0);
});

test("a model that is missed more often than all others is said first", () => {
  const { diagnosis } = diagnosed(narrowIsBad);
  const [first] = diagnosis!.suggestions;
  expect(first).toMatchObject({
    kind: "tag-model",
    subject: { model: "narrow" },
    evidence: { missed: 24, presented: 120, elsewhereMissed: 0, elsewherePresented: 240 },
  });
  expect(first!.sentence).toBe(
    "Tags of model narrow were missed in 24 of 120 presentations, all others in 0 of 240. Another model is read better.",
  );
});

test("one dead tag does not condemn its model", () => {
  const { diagnosis, why } = diagnosed(trial((model, tag) => model === "narrow" && tag === 3));
  expect(why!.tagTrials!.pairs.some(({ toldApart }) => toldApart)).toBe(false);
  expect(diagnosis!.suggestions.map(({ kind }) => kind)).toEqual(["tag"]);
});

test("models that no pass had side by side are not compared", () => {
  const rows = trial(() => false).filter(
    ({ pass, columns }) => (Number(pass) % 2 === 0) === (columns!.model === "broad"),
  );
  expect(diagnosed(rows).why!.tagTrials!.pairs.map(({ first, second }) => [first, second])).toEqual([
    ["narrow", "round"],
  ]);
});

test("without compare_tags, or with a single model, there is no trial", () => {
  const depot = walkedFacility({}, narrowIsBad);
  expect(diagnose(depot, depot.facility.readPoints[0]!).why!.tagTrials).toBeNull();
  expect(
    diagnosed(narrowIsBad.filter(({ columns }) => columns!.model === "narrow")).why!.tagTrials,
  ).toBeNull();
});
