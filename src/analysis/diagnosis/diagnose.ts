import type { Diagnosis } from "../../model/diagnosis/diagnosis.ts";
import type { Why, WhyDetails } from "../../model/diagnosis/why.ts";
import type { ReadPoint } from "../../model/facility.ts";
import { presentationRows, select, type WalkedFacility } from "../../model/rows.ts";
import { powerInUse } from "../radio/power-in-use.ts";
import { radioSetting } from "../radio/radio-setting.ts";
import { reach } from "../radio/reach.ts";
import { timeToAnswer } from "../radio/time-to-answer.ts";
import { antennas } from "./antennas.ts";
import { drivers } from "./drivers.ts";
import { missMap } from "./miss-map.ts";
import { missShares } from "./miss-shares.ts";
import type { DiagnosedPoint, Source } from "./misses/candidate.ts";
import { runOfPasses } from "./run-of-passes.ts";
import { settings } from "./settings.ts";
import { signalInHand } from "./signal-in-hand.ts";
import { standingOut } from "./standing-out.ts";
import { idleTags, strays } from "./strays.ts";
import { adjusted, suggestions } from "./suggestions.ts";
import { tagTrials } from "./tag-trials.ts";

/** Where suggestions come from, each under the key of what the page shows of it. */
const sources: { [Key in keyof WhyDetails]?: Source<NonNullable<WhyDetails[Key]>> } = {
  map: missMap,
  standingOut,
  runOfPasses,
  drivers,
  signal: signalInHand,
  antennas,
  strays,
  idleTags,
  settings,
  tagTrials,
  power: powerInUse,
  radioSignal: radioSetting,
  timeToAnswer,
  reach,
};

const nothing: WhyDetails = {
  map: null,
  standingOut: null,
  runOfPasses: null,
  drivers: null,
  signal: null,
  antennas: null,
  strays: null,
  idleTags: null,
  settings: null,
  tagTrials: null,
};

/** Why a read point missed in its sign-off round, as far as its logs carry an answer. */
export function diagnose(
  walked: WalkedFacility,
  readPoint: ReadPoint,
): { diagnosis: Diagnosis | null; why: Why | null } {
  const point = diagnosedPoint(walked, readPoint);
  const found = Object.entries(sources).map(([key, source]) => ({ key, ...source(point) }));
  const pAdjusted = adjusted(found.flatMap(({ candidates }) => candidates));
  const details: WhyDetails = { ...nothing };
  for (const one of found) {
    const detail = one.details((candidate) => pAdjusted.get(candidate) ?? null);
    if (detail !== null) Object.assign(details, { [one.key]: detail });
  }
  const next = suggestions(point, pAdjusted);
  return {
    diagnosis:
      point.misses === 0 && next.length === 0
        ? null
        : { sentence: sentenceOf(point, next), missShares: missShares(point), suggestions: next },
    why: Object.values(details).every((one) => one === null)
      ? null
      : { round: point.place.round, ...details },
  };
}

function sentenceOf({ misses }: DiagnosedPoint, next: Diagnosis["suggestions"]): string {
  if (next.length > 0) return next[0]!.sentence;
  return misses === 1
    ? "The one miss shows no pattern."
    : `The ${misses} misses show no pattern that the evidence carries.`;
}

function diagnosedPoint(walked: WalkedFacility, readPoint: ReadPoint): DiagnosedPoint {
  const { log, index, facility } = walked;
  const place = { readPoint: readPoint.id, round: readPoint.signOffRound };
  const { presentations: counted, tagsRead, tag, pass } = log.rows;
  const presented = presentationRows(select(walked, place));
  const { length } = presented;
  const of = {
    pass: new Int32Array(length),
    tag: new Int32Array(length),
    n: new Int32Array(length),
    missed: new Int32Array(length),
  };
  let presentations = 0;
  let misses = 0;
  let namesTags = true;
  for (let i = 0; i < length; i += 1) {
    const row = presented[i]!;
    const n = counted[row]!;
    const missed = n - tagsRead[row]!;
    of.pass[i] = pass[row]!;
    of.tag[i] = tag[row]!;
    of.n[i] = n;
    of.missed[i] = missed;
    presentations += n;
    misses += missed;
    if (tag[row] === -1) namesTags = false;
  }
  return {
    walked,
    readPoint,
    place,
    passes: Int32Array.from(index.passesAt(place).filter((pass) => log.passes[pass]!.voidReason === null)),
    presented,
    of,
    missedRows: presented.filter((_, i) => of.missed[i]! > 0),
    presentations,
    misses,
    namesTags,
    confidence: facility.confidence,
  };
}
