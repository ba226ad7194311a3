import { expect, test } from "vitest";
import { settingReasons } from "../../../src/analysis/comparison/reasons.ts";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { describeRadio } from "../../../src/analysis/radio/describe-radio.ts";
import { facility, walkedFacility } from "../walked.ts";
import { radioRound } from "./radio-walk.ts";

test("a round's radio is told with its EIRP, its limit in EIRP, its source and whether it is over", () => {
  const rounds = [radioRound("as-found", { cableLossDb: 1 }), radioRound("as-left"), radioRound("later")];
  const [found, left] = describeRadio({ rounds }, "dock-1");
  expect(found).toMatchObject({ round: "as-found", eirpDbm: 36.5, limitDbm: 36, over: true, overByDb: 0.5 });
  expect(found!.source).toMatch(/^47 CFR 15\.247/);
  expect(left).toMatchObject({ round: "as-left", eirpDbm: 36, limitDbm: 36, over: false, overByDb: 0 });
  expect(describeRadio({ rounds }, "dock-2")).toEqual([]);
});

test("without a power there is no EIRP, and nothing is called over", () => {
  const rounds = [{ ...radioRound("as-left"), settings: {} }];
  expect(describeRadio({ rounds }, "dock-1")[0]).toMatchObject({
    eirpDbm: null,
    limitDbm: 36,
    over: false,
    overByDb: null,
    exposure: [],
  });
});

test("a stated limit in e.r.p. is held against in EIRP, with its source", () => {
  const rounds = [
    radioRound("as-left", { region: "other", limitDbmErp: 33, source: "licence 7", frequencyMhz: 866 }),
  ];
  const [own] = describeRadio({ rounds }, "dock-1");
  expect(own).toMatchObject({ limitDbm: 35.15, source: "licence 7", mark: "stated", over: true });
  expect(own!.exposure.map(({ mark }) => mark)).toEqual(["read", "memory"]);
});

test("a circular antenna counts one plane against the limit, and both for exposure", () => {
  const rounds = [radioRound("as-left", { antennaGainDbi: null, antennaGainDbic: 9 })];
  expect(describeRadio({ rounds }, "dock-1")[0]).toMatchObject({
    eirpDbm: 36,
    totalEirpDbm: 39,
    over: false,
  });
});

/** Rounds of eight passes each whose tags answer at a level. */
function diagnosed(rounds: ReturnType<typeof radioRound>[], levelOf: (round: string) => number, missed = 1) {
  const depot = walkedFacility(
    { rounds },
    rounds.flatMap(({ id: round }) =>
      Array.from({ length: 8 * 10 }, (_, i) => {
        const pass = Math.floor(i / 10);
        const read = round === "as-found" || i >= missed;
        const rssiDbm = levelOf(round) + ((pass * 7) % 5) / 2 + (i % 10) / 10;
        return { round, pass: `${pass + 1}`, tag: `T${i % 10}`, read, ...(read ? { rssiDbm } : {}) };
      }),
    ),
  );
  return diagnose(depot, depot.facility.readPoints[0]!);
}

test("a signal that fell by 12 dB where the settings account for none is suggested as a loss of 6 dB", () => {
  const rounds = [radioRound("as-found"), radioRound("as-left")];
  const { diagnosis, why } = diagnosed(rounds, (round) => (round === "as-found" ? -50 : -62));
  const [first] = diagnosis!.suggestions;
  expect(first).toMatchObject({ kind: "radio-setting", subject: { since: "as-found" } });
  expect(first!.evidence.p).toBeLessThan(0.05);
  expect(first!.sentence).toMatch(
    /fell by 1[12]\.\d dB since round as-found.*no change.*loss of [56]\.\d dB/,
  );
  expect(why!.radioSignal!.unexplainedDb).toBeCloseTo(-12, 0);
});

test("a fall that the settings account for is no suggestion: power counts once, a cable twice", () => {
  const lower = [radioRound("as-found"), radioRound("as-left", {}, "19.5")];
  const cable = [radioRound("as-found"), radioRound("as-left", { cableLossDb: 7.5 })];
  for (const rounds of [lower, cable]) {
    const { diagnosis, why } = diagnosed(rounds, (round) => (round === "as-found" ? -50 : -62));
    expect(diagnosis!.suggestions.map(({ kind }) => kind)).not.toContain("radio-setting");
    expect(why!.radioSignal!.expectedDb).toBeCloseTo(-12, 10);
  }
});

test("a judged round over its limit is a fact, said even where nothing was missed", () => {
  const { diagnosis } = diagnosed([radioRound("as-left", { cableLossDb: 0.5 })], () => -50, 0);
  expect(diagnosis!.suggestions).toHaveLength(1);
  expect(diagnosis!.suggestions[0]).toMatchObject({ kind: "radio-setting", evidence: { p: null } });
  expect(diagnosis!.sentence).toMatch(/^Round as-left radiates 37\.0 dBm EIRP where 36\.0 dBm is the limit/);
});

test("a cable or an antenna that was changed is a setting that differs between rounds, by its name in facility.yaml", () => {
  const rounds = [radioRound("as-found"), radioRound("as-left", { cableLossDb: 3, speedMPerS: 0.5 })];
  const pair = { readPoint: "dock-1", before: "as-found", after: "as-left" };
  expect(settingReasons(facility({ rounds }), pair)).toEqual([
    {
      code: "settings-differ",
      settings: [
        { setting: "cable_loss_db", before: "1.5", after: "3" },
        { setting: "speed_m_s", before: null, after: "0.5" },
      ],
    },
  ]);
});
