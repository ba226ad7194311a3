import { mean, medianSorted } from "simple-statistics";
import type { RadioSignal } from "../../model/diagnosis/why.ts";
import { noRssi } from "../../model/pass-log.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import { presentationRows, select, type WalkedFacility } from "../../model/rows.ts";
import { rankSumP } from "../../statistics/rank-sum.ts";
import type { Candidate, DiagnosedPoint, Source } from "../diagnosis/misses/candidate.ts";
import { describeRadio } from "./describe-radio.ts";

/**
 * A loss that the settings do not account for is worth a look from 3 dB on, which is half the power (common practice, no source); on its
 * way to the tag and back a signal passes it twice.
 */
const allowanceDb = 6;

interface Levels {
  radio: RadioResult;
  /** The median of the strongest reads of each pass. */
  passes: number[];
}

/**
 * Whether the signal fell since the round before by more than the settings account for, and whether they are over their limit. With the
 * power P, the cable's loss L and the gain G, the level of a tag's answer should change by dP - 2 dL + 2 dG.
 */
export const radioSetting: Source<RadioSignal> = (point) => {
  const none = { candidates: [], details: () => null };
  const all = describeRadio(point.walked.facility, point.readPoint.id);
  const radio = all.find(({ round }) => round === point.place.round);
  if (radio === undefined) return none;
  const facts = radio.over ? [overLimit(radio)] : [];
  const now = { radio, passes: passLevels(point.walked, point.presented) };
  const before = levelsBefore(point, all);
  if (before === null || now.passes.length < 2) return { ...none, candidates: facts };
  const expectedDb = expectedChange(before.radio, radio);
  const changeDb = mean(now.passes) - mean(before.passes);
  const unexplainedDb = changeDb - expectedDb;
  const shifted = before.passes.map((level) => level + expectedDb - allowanceDb);
  const isWeaker = unexplainedDb < -allowanceDb;
  const signal: Candidate = {
    kind: "radio-setting",
    subject: { since: before.radio.round },
    p: isWeaker ? rankSumP(now.passes, shifted) : 1,
    counts: null,
    ratio: null,
    covers: null,
    // While every answer is so much weaker, every miss may be due to it.
    explains: point.misses,
    sentence: `The signal fell by ${(-changeDb).toFixed(1)} dB since round ${before.radio.round}, and the settings account for ${settingsText(expectedDb)}. A loss of ${(-unexplainedDb / 2).toFixed(1)} dB between reader and tags would do that: look at cables, connectors and aim, with the transmitter off.`,
  };
  return {
    candidates: [...facts, signal],
    details: (pAdjusted) => ({
      before: before.radio.round,
      passes: now.passes.length,
      passesBefore: before.passes.length,
      changeDb,
      expectedDb,
      unexplainedDb,
      allowanceDb,
      pAdjusted: pAdjusted(signal)!,
    }),
  };
};

function settingsText(expectedDb: number): string {
  if (Math.abs(expectedDb) < 0.05) return "no change";
  return `${Math.abs(expectedDb).toFixed(1)} dB ${expectedDb < 0 ? "less" : "more"}`;
}

function overLimit({ eirpDbm, limitDbm, overByDb, round }: RadioResult): Candidate {
  return {
    kind: "radio-setting",
    subject: { round },
    p: null,
    counts: null,
    ratio: null,
    covers: null,
    explains: 0,
    sentence: `Round ${round} radiates ${eirpDbm!.toFixed(1)} dBm EIRP where ${limitDbm!.toFixed(1)} dBm is the limit: lower the power by ${overByDb!.toFixed(1)} dB at the least and walk again, since a read point has to read within its limit.`,
  };
}

function expectedChange(before: RadioResult, now: RadioResult): number {
  const power = now.powerDbm! - before.powerDbm!;
  const beyondPower = (radio: RadioResult) => radio.eirpDbm! - radio.powerDbm!;
  return power + 2 * (beyondPower(now) - beyondPower(before));
}

/** The last round before the judged one with signals and settings; null where there is none, or the judged round's are not known. */
function levelsBefore(
  { walked, readPoint, place }: DiagnosedPoint,
  all: readonly RadioResult[],
): Levels | null {
  const own = all.findIndex(({ round }) => round === place.round);
  if (all[own]!.eirpDbm === null) return null;
  for (const radio of all.slice(0, own).reverse()) {
    if (radio.eirpDbm === null) continue;
    const rows = presentationRows(select(walked, { readPoint: readPoint.id, round: radio.round }));
    const passes = passLevels(walked, rows);
    if (passes.length > 1) return { radio, passes };
  }
  return null;
}

function passLevels({ log }: WalkedFacility, rows: Int32Array): number[] {
  const { pass, rssiDbm, tagsRead } = log.rows;
  const byPass = new Map<number, number[]>();
  for (const row of rows) {
    if (tagsRead[row] === 0 || rssiDbm[row] === noRssi) continue;
    const own = byPass.get(pass[row]!);
    if (own === undefined) byPass.set(pass[row]!, [rssiDbm[row]!]);
    else own.push(rssiDbm[row]!);
  }
  return [...byPass]
    .sort(([a], [b]) => a - b)
    .map(([, levels]) => medianSorted(levels.sort((a, b) => a - b)));
}
