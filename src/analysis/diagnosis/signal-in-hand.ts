import { median, quantileSorted } from "simple-statistics";
import type { SignalInHand } from "../../model/diagnosis/why.ts";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi } from "../../model/pass-log.ts";
import { lowerRank } from "../../statistics/order-statistic.ts";
import { shownConditions } from "../rounds/by-condition.ts";
import { entriesOfPass, hearingsOf, recorded } from "./hearings.ts";
import type { DiagnosedPoint, Source } from "./misses/candidate.ts";

type Levels = SignalInHand["all"];

const weakShare = 0.05;
/** Tags are put together in steps of so many dB. */
const stepDb = 3;

/** How far above the weakest that the reader decoded the tags were read. It suggests nothing: a margin is no fault. */
export const signalInHand: Source<SignalInHand> = (point) => ({
  candidates: [],
  details: () => {
    const { rows } = point.walked.log;
    const read = point.presented.filter(
      (row) => rows.tag[row] !== -1 && rows.tagsRead[row]! > 0 && rows.rssiDbm[row] !== noRssi,
    );
    if (read.length === 0) return null;
    const levels = recorded(levelsOf(point, read));
    const weakestDecodedDbm = weakestDecoded(point, levels[0]!);
    const rank = lowerRank(levels.length, weakShare, point.confidence);
    const q05Dbm = quantileSorted(levels, weakShare);
    return {
      weakestDecodedDbm,
      all: fiveFigures(levels),
      q05LowerDbm: rank === null ? null : levels[rank - 1]!,
      inHandDb: q05Dbm - weakestDecodedDbm,
      byAntenna: byAntenna(point, read),
      byCondition: byCondition(point, read),
      readByLevel: readByLevel(point),
    };
  },
});

function levelsOf({ walked }: DiagnosedPoint, rows: Int32Array): Float64Array {
  const { rssiDbm } = walked.log.rows;
  return new Float64Array(rows.length).map((_, i) => rssiDbm[rows[i]!]!);
}

function fiveFigures(sorted: number[]): Levels {
  return {
    n: sorted.length,
    minDbm: sorted[0]!,
    q05Dbm: quantileSorted(sorted, weakShare),
    medianDbm: quantileSorted(sorted, 0.5),
    maxDbm: sorted.at(-1)!,
  };
}

/** Over all rounds and everything heard at the read point, strays too. */
function weakestDecoded({ walked, readPoint }: DiagnosedPoint, weakestRead: number): number {
  const { facility, log, index } = walked;
  const { heard, rows } = log;
  let weakest = weakestRead;
  const see = (level: number) => {
    if (level !== noRssi && level < weakest) weakest = level;
  };
  for (const { id: round } of facility.rounds) {
    const place = { readPoint: readPoint.id, round };
    for (const row of index.rowsAt(place)) see(rows.rssiDbm[row]!);
    if (heard === null) continue;
    for (const pass of index.passesAt(place)) {
      const [from, to] = entriesOfPass(heard, pass, log.passes.length);
      for (let entry = from; entry < to; entry += 1) see(heard.rssiDbm[entry]!);
    }
  }
  return weakest;
}

function byAntenna({ walked }: DiagnosedPoint, read: Int32Array): SignalInHand["byAntenna"] {
  const { antennas, antenna, rssiDbm, length } = hearingsOf(walked.log, read);
  const levels = antennas.map((): number[] => []);
  for (let i = 0; i < length; i += 1) levels[antenna[i]!]!.push(rssiDbm[i]!);
  return antennas
    .flatMap((name, i) => {
      const own = recorded(levels[i]!);
      return own.length === 0 ? [] : [{ antenna: name, ...fiveFigures(own) }];
    })
    .sort((a, b) => byNaturalOrder(a.antenna, b.antenna));
}

function byCondition({ walked, readPoint }: DiagnosedPoint, read: Int32Array): SignalInHand["byCondition"] {
  const { rssiDbm } = walked.log.rows;
  return shownConditions(walked, readPoint.id).flatMap(({ column, values, placeOf }) => {
    const levels = values.map((): number[] => []);
    for (const row of read) levels[placeOf(row)]?.push(rssiDbm[row]!);
    return values.flatMap((value, i) => {
      const own = recorded(levels[i]!);
      return own.length === 0 ? [] : [{ column, value, ...fiveFigures(own) }];
    });
  });
}

/** Tags that were presented at least twice and read at least once, put together by the median of their strongest RSSI. */
function readByLevel({ walked, presented }: DiagnosedPoint): SignalInHand["readByLevel"] {
  const { tag, tagsRead, rssiDbm } = walked.log.rows;
  const tags = new Map<number, { presented: number; read: number; levels: number[] }>();
  for (const row of presented) {
    if (tag[row] === -1) continue;
    let own = tags.get(tag[row]!);
    if (own === undefined) {
      own = { presented: 0, read: 0, levels: [] };
      tags.set(tag[row]!, own);
    }
    own.presented += 1;
    if (tagsRead[row] === 0) continue;
    own.read += 1;
    if (rssiDbm[row] !== noRssi) own.levels.push(rssiDbm[row]!);
  }
  const steps = new Map<number, { presented: number; read: number }>();
  for (const own of tags.values()) {
    if (own.presented < 2 || own.levels.length === 0) continue;
    const step = Math.floor(median(own.levels) / stepDb);
    const sum = steps.get(step) ?? { presented: 0, read: 0 };
    steps.set(step, { presented: sum.presented + own.presented, read: sum.read + own.read });
  }
  return [...steps]
    .sort(([a], [b]) => a - b)
    .map(([step, sum]) => ({ fromDbm: step * stepDb, toDbm: (step + 1) * stepDb, ...sum }));
}
