import { max, median, min } from "simple-statistics";
import { timesAsOften } from "../../measures/rounding.ts";
import type { DwellPass, TimeToAnswer } from "../../model/diagnosis/why.ts";
import { counted } from "../../model/number-words.ts";
import { dwellS, usualTagsPerS } from "../../model/radio/inventory.ts";
import type { Candidate, DiagnosedPoint, Source } from "../diagnosis/misses/candidate.ts";
import { chanceOf, countsOf, ratioOf } from "../diagnosis/misses/miss-counts.ts";
import { radioOfRound } from "./describe-radio.ts";
import { loggedSpeeds } from "./logged-numbers.ts";

/** Fewer new tags give no rate. */
const fewestNewTags = 5;
/** Passes that the subject of a suggestion names; the details have all. */
const mostNamed = 20;

interface TimedPass extends DwellPass {
  number: number;
}

/**
 * Whether tags had the time to answer: zone length over speed is how long each is in the zone, and the tags of a pass over that are how many
 * a second must be read if all come at once, which is the worst case. The yardstick is the stated rate, else the usual one; where the log shows a pass in which the reader
 * did better, that.
 */
export const timeToAnswer: Source<TimeToAnswer> = (point) => {
  const none = { candidates: [], details: () => null };
  const stated = radioOfRound(point.walked.facility, point.place)?.stated;
  if (stated == null || stated.zoneM === null) return none;
  const { zoneM } = stated;
  const speeds = loggedSpeeds(point.walked);
  const achieved = achievedRates(point);
  const walked = passesOf(point).map(({ pass, rows, presented, missed }) => {
    const logged = speeds === null ? [] : rows.map((row) => speeds.of(row)).filter((speed) => speed !== null);
    return {
      pass,
      presented,
      missed,
      speed: logged.length === 0 ? stated.speedMPerS : max(logged),
      achieved: achieved.get(pass) ?? null,
    };
  });
  const known = walked.flatMap(({ pass, presented, missed, speed, achieved }): TimedPass[] => {
    if (speed === null) return [];
    const dwell = dwellS(zoneM, speed);
    return [
      {
        number: pass,
        pass: point.walked.log.passes[pass]!.id,
        speedMPerS: speed,
        tags: presented,
        missed,
        dwellS: dwell,
        neededTagsPerS: presented / dwell,
        achievedTagsPerS: achieved,
      },
    ];
  });
  if (known.length === 0) return none;
  const rates = known.flatMap(({ achievedTagsPerS }) => achievedTagsPerS ?? []);
  const assumed = stated.readerTagsPerS ?? usualTagsPerS;
  const best = rates.length === 0 ? null : max(rates);
  const yardstick = Math.max(assumed, best ?? 0);
  const tooShort = known.filter(({ neededTagsPerS }) => neededTagsPerS > yardstick);
  const behind = known.filter(
    ({ achievedTagsPerS, neededTagsPerS, missed }) =>
      missed > 0 && achievedTagsPerS !== null && achievedTagsPerS < neededTagsPerS,
  );
  const candidate = candidateOf(point, { tooShort, yardstick, column: speeds?.column });
  return {
    candidates: candidate === null ? [] : [candidate],
    details: (pAdjusted) => ({
      zoneM,
      basis: yardstick > assumed ? "log" : stated.readerTagsPerS === null ? "usual" : "stated",
      yardstickTagsPerS: yardstick,
      passes: known.length,
      withoutSpeed: walked.length - known.length,
      dwellS: threeOf(known.map((one) => one.dwellS)),
      neededTagsPerS: threeOf(known.map(({ neededTagsPerS }) => neededTagsPerS)),
      achieved:
        best === null ? null : { passes: rates.length, medianTagsPerS: median(rates), bestTagsPerS: best },
      behind: behind.map(({ pass }) => pass),
      tooShort: tooShort.map(({ number: _, ...pass }) => pass),
      pAdjusted: candidate === null ? null : pAdjusted(candidate),
    }),
  };
};

function threeOf(values: number[]): { min: number; median: number; max: number } {
  return { min: min(values), median: median(values), max: max(values) };
}

function passesOf({ walked, presented }: DiagnosedPoint) {
  const { pass, presentations, tagsRead } = walked.log.rows;
  const passes = new Map<number, { pass: number; rows: number[]; presented: number; missed: number }>();
  for (const row of presented) {
    const own = passes.get(pass[row]!) ?? { pass: pass[row]!, rows: [], presented: 0, missed: 0 };
    passes.set(pass[row]!, own);
    own.rows.push(row);
    own.presented += presentations[row]!;
    own.missed += presentations[row]! - tagsRead[row]!;
  }
  return [...passes.values()].sort((a, b) => a.pass - b.pass);
}

/**
 * What the reader's log shows that it achieved in each pass: its new tags after the first, over the seconds from the first read of the
 * first tag to the first read of the last. It could be faster: a tag that is not there yet cannot answer. Left out below five new tags.
 */
function achievedRates({ walked, presented }: DiagnosedPoint): Map<number, number> {
  const { heard, rows } = walked.log;
  if (heard === null) return new Map();
  const tags = new Map<number, Map<number, number>>();
  for (const row of presented) {
    const own = tags.get(rows.pass[row]!) ?? new Map<number, number>();
    tags.set(rows.pass[row]!, own.set(rows.tag[row]!, Number.POSITIVE_INFINITY));
  }
  for (const [pass, own] of tags) {
    const [from, to] = walked.index.heardIn(pass);
    for (let entry = from; entry < to; entry += 1) {
      const first = own.get(heard.tag[entry]!);
      if (first !== undefined) own.set(heard.tag[entry]!, Math.min(first, heard.firstMs[entry]!));
    }
  }
  return new Map(
    [...tags].flatMap(([pass, own]) => {
      const times = [...own.values()].filter(Number.isFinite);
      if (times.length < fewestNewTags) return [];
      const spanS = (max(times) - min(times)) / 1000;
      return spanS <= 0 ? [] : [[pass, (times.length - 1) / spanS] as const];
    }),
  );
}

/** Passes in which tags had too little time, against all others; null where there is none, or nothing was missed. */
function candidateOf(
  point: DiagnosedPoint,
  {
    tooShort,
    yardstick,
    column,
  }: { tooShort: readonly TimedPass[]; yardstick: number; column: string | undefined },
): Candidate | null {
  if (tooShort.length === 0 || point.misses === 0) return null;
  const sum = (of: (pass: TimedPass) => number) => tooShort.reduce((all, pass) => all + of(pass), 0);
  const counts = countsOf(
    point,
    sum(({ missed }) => missed),
    sum(({ tags }) => tags),
  );
  const numbers = new Set(tooShort.map(({ number }) => number));
  const ratio = counts.missed === 0 ? null : ratioOf(counts, point.confidence);
  const shortest = min(tooShort.map((pass) => pass.dwellS));
  const most = max(tooShort.map(({ neededTagsPerS }) => neededTagsPerS));
  const { pass } = point.walked.log.rows;
  return {
    kind: "time-to-answer",
    subject: {
      passes: tooShort
        .slice(0, mostNamed)
        .map((one) => one.pass)
        .join(", "),
    },
    p: chanceOf(counts),
    counts,
    ratio,
    covers: (row) => numbers.has(pass[row]!),
    column,
    explains: 0,
    sentence: `In ${counted(tooShort.length, "pass", "passes")} tags had ${shortest.toFixed(2)} s and more to answer, and up to ${most.toFixed(0)} tags a second would have had to be read, where ${yardstick.toFixed(0)} can be: ${counts.missed} of ${counts.presented} were missed, in the others ${counts.elsewhereMissed} of ${counts.elsewherePresented}${ratio === null ? "" : `: ${timesAsOften(ratio)}`}. Slow down, lengthen the zone, or send fewer tags at once.`,
  };
}
