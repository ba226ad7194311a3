import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { describe, expect, it } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { powerResults } from "../../../src/analysis/radio/power-curves.ts";
import type { PowerStep } from "../../../src/model/radio/power-steps.ts";
import { type WalkedRow, walkedFacility } from "../walked.ts";

const steps = (...counts: [dbm: number, presented: number, read: number][]): PowerStep[] =>
  counts.map(([powerDbm, presented, read]) => ({ powerDbm, presented, read }));
/** The steps of tests/reference/dose-response.test.ts: 99 % takes 29.2 dBm by the logit and 28.2 by the probit. */
const usual = steps([15, 40, 2], [18, 40, 9], [21, 40, 22], [24, 40, 34], [27, 40, 39], [30, 40, 40]);

/** Ten passes of ten tags of which one in ten is missed, a different one in each. */
const rows: WalkedRow[] = Array.from({ length: 100 }, (_, i) => ({
  pass: `P${Math.floor(i / 10)}`,
  tag: `T${i % 10}`,
  read: i % 11 !== 0,
}));

function walkedAt(inUseDbm: number | null, measured: PowerStep[]) {
  const walked = walkedFacility({ criteria: [] }, rows);
  walked.log.power.push({ readPoint: "dock-1", round: "as-left", inUseDbm, steps: measured, cohorts: null });
  return walked;
}

function diagnosed(inUseDbm: number | null, measured = usual) {
  const walked = walkedAt(inUseDbm, measured);
  const { diagnosis, why } = diagnose(walked, walked.facility.readPoints[0]!);
  return { first: diagnosis?.suggestions[0], power: why?.power };
}

describe("a power in use that falls short of the power log", () => {
  it("is suggested with what it reads, what the share takes, and the larger chance of both curves", () => {
    const { first, power } = diagnosed(24);
    expect(first).toMatchObject({ kind: "power", subject: { power: "24 dBm" } });
    expect(first!.sentence).toContain(
      "24 dBm, is too low: by the power log it reads 86.4 % of the tags, and 99 % takes 29.2 dBm (27.0 to 32.9).",
    );
    expect(first!.evidence.p).toBeLessThan(1e-6);
    expect(power).toMatchObject({ share: 0.99, inUseDbm: 24 });
    expect(power!.atInUse!.value).toBeCloseTo(0.8646057989885024, 8);
    expect(power!.pAdjusted).toBe(first!.evidence.p);
  });

  it("is told by the tags read at that power too, where they scatter too far about the curve for it", () => {
    const scattered = steps(
      [15, 40, 12],
      [18, 40, 4],
      [21, 40, 39],
      [24, 40, 33],
      [27, 40, 40],
      [30, 40, 35],
    );
    const { first } = diagnosed(24, scattered);
    expect(first).toMatchObject({ kind: "power" });
    // 33 of 40 or fewer, where each is read with 99 %; twice for the two ways to look, and Holm's factor for all 21 tests.
    expect(first!.evidence.p).toBeCloseTo(21 * 2 * binomialCdf(33, 40, 0.99), 12);
  });

  it("is not suggested where one of the two curves finds it enough, or where it is not stated", () => {
    expect(diagnosed(30).first?.kind).not.toBe("power");
    // The logit alone asks for 29.2 dBm.
    expect(diagnosed(28.3).first?.kind).not.toBe("power");
    expect(diagnosed(null)).toMatchObject({ power: { inUseDbm: null, pAdjusted: null } });
  });

  it("is told by the counts where reads go from none to all between two powers", () => {
    const step = steps([15, 20, 0], [18, 20, 0], [21, 20, 20]);
    const { first, power } = diagnosed(17, step);
    expect(first).toMatchObject({ kind: "power" });
    expect(first!.sentence).toContain("the power log has 0 of 20 tags read at 18 dBm");
    expect(power!.atInUse).toBeNull();
    expect(diagnosed(21, step).first?.kind).not.toBe("power");
    expect(diagnosed(24, step)).toMatchObject({ power: { pAdjusted: null } });
  });
});

describe("the curves of a read point's power log", () => {
  it("stand by both links, with margins, and a band that holds every power measured and the one in use", () => {
    const [result, ...others] = powerResults(walkedAt(28.3, usual), "dock-1");
    expect(others).toEqual([]);
    const [logit, probit] = result!.curves;
    expect([logit!.link, probit!.link]).toEqual(["logit", "probit"]);
    expect(logit!.needed.map(({ share }) => share)).toEqual([0.5, 0.9, 0.99]);
    const { margin, powerDbm, lowerDbm } = probit!.needed[2]!;
    expect(powerDbm).toBeCloseTo(28.2241102055, 7);
    expect(margin!.value).toBeCloseTo(28.3 - 28.2241102055, 7);
    expect(margin!.upper).toBeCloseTo(28.3 - lowerDbm!, 9);
    const powers = logit!.band.map((point) => point.powerDbm);
    expect(powers).toEqual([...powers].sort((a, b) => a - b));
    for (const dbm of [15, 18, 21, 24, 27, 30, 28.3]) expect(powers).toContain(dbm);
  });

  it("is no curve where there is none, and nothing where there is no log", () => {
    const [result] = powerResults(walkedAt(30, steps([15, 20, 0], [21, 20, 20])), "dock-1");
    for (const curve of result!.curves)
      expect(curve).toMatchObject({
        state: "separated",
        noneAtDbm: 15,
        allAtDbm: 21,
        slope: null,
        needed: [],
        band: [],
      });
    expect(powerResults(walkedAt(30, usual), "dock-2")).toEqual([]);
  });
});
