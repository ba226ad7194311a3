import type { SignalInHand } from "../../model/diagnosis/why.ts";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi } from "../../model/pass-log.ts";
import { quantileOfRising } from "../../statistics/numerics/sorted-groups.ts";
import { lowerRank } from "../../statistics/order-statistic.ts";
import { shownConditions } from "../rounds/by-condition.ts";
import { hearingsOf, Levels } from "./hearings.ts";
import type { DiagnosedPoint, Source } from "./misses/candidate.ts";

type LevelFigures = SignalInHand["all"];

const weakShare = 0.05;
/** Tags are put together in steps of so many dB. */
const stepDb = 3;

/** How far above the weakest that the reader decoded the tags were read. It suggests nothing: a margin is no fault. */
export const signalInHand: Source<SignalInHand> = (point) => ({
  candidates: [],
  details: () => {
    const { rows } = point.walked.log;
    const strongest = new Float64Array(point.presented.length).fill(noRssi);
    for (let i = 0; i < strongest.length; i += 1) {
      const row = point.presented[i]!;
      if (rows.tag[row] !== -1 && rows.tagsRead[row]! > 0) strongest[i] = rows.rssiDbm[row]!;
    }
    const levels = new Levels(strongest);
    const all = levels.sorted();
    if (all.length === 0) return null;
    const weakestDecodedDbm = weakestDecoded(point, all[0]!);
    const rank = lowerRank(all.length, weakShare, point.confidence);
    const figures = fiveFigures(all);
    return {
      weakestDecodedDbm,
      all: figures,
      q05LowerDbm: rank === null ? null : all[rank - 1]!,
      inHandDb: figures.q05Dbm! - weakestDecodedDbm,
      byAntenna: byAntenna(point),
      byCondition: byCondition(point, levels),
      readByLevel: readByLevel(point, levels),
    };
  },
});

function fiveFigures(rising: Float64Array): LevelFigures {
  return {
    n: rising.length,
    minDbm: rising[0]!,
    q05Dbm: quantileOfRising(rising, weakShare),
    medianDbm: quantileOfRising(rising, 0.5),
    maxDbm: rising.at(-1)!,
  };
}

/** Over all rounds and everything decoded at the read point: every read of its readers' logs, strays and idle reads too. */
function weakestDecoded({ walked, readPoint }: DiagnosedPoint, weakestRead: number): number {
  const { facility, log, index } = walked;
  let weakest = weakestRead;
  const see = (level: number) => {
    if (level !== noRssi && level < weakest) weakest = level;
  };
  for (const { id: round } of facility.rounds)
    for (const row of index.rowsAt({ readPoint: readPoint.id, round })) see(log.rows.rssiDbm[row]!);
  for (const own of log.heard?.weakest ?? []) if (own.readPoint === readPoint.id) see(own.dbm);
  return weakest;
}

function byAntenna({ walked, presented }: DiagnosedPoint): SignalInHand["byAntenna"] {
  const { antennas, levelsOf: own } = hearingsOf(walked, presented);
  return antennas
    .flatMap((name, i) => (own(i).length === 0 ? [] : [{ antenna: name, ...fiveFigures(own(i)) }]))
    .sort((a, b) => byNaturalOrder(a.antenna, b.antenna));
}

function byCondition(
  { walked, readPoint, presented }: DiagnosedPoint,
  levels: Levels,
): SignalInHand["byCondition"] {
  return shownConditions(walked, readPoint.id).flatMap(({ column, values, placeOf }) => {
    const places = new Int32Array(presented.length);
    for (let i = 0; i < places.length; i += 1) places[i] = placeOf(presented[i]!);
    const own = levels.grouped(values.length, places);
    return values.flatMap((value, i) =>
      own(i).length === 0 ? [] : [{ column, value, ...fiveFigures(own(i)) }],
    );
  });
}

/** Tags that were presented at least twice and read at least once, put together by the median of their strongest RSSI. */
function readByLevel({ walked, of }: DiagnosedPoint, levels: Levels): SignalInHand["readByLevel"] {
  const { tags } = walked.log;
  const times = new Int32Array(tags.length);
  const read = new Int32Array(tags.length);
  for (let i = 0; i < of.tag.length; i += 1) {
    const tag = of.tag[i]!;
    if (tag === -1) continue;
    times[tag]! += 1;
    read[tag]! += of.n[i]! > of.missed[i]! ? 1 : 0;
  }
  const own = levels.grouped(tags.length, of.tag);
  const steps = new Map<number, { presented: number; read: number }>();
  times.forEach((count, tag) => {
    if (count < 2 || own(tag).length === 0) return;
    const step = Math.floor(quantileOfRising(own(tag), 0.5) / stepDb);
    const sum = steps.get(step) ?? { presented: 0, read: 0 };
    steps.set(step, { presented: sum.presented + count, read: sum.read + read[tag]! });
  });
  return [...steps]
    .sort(([a], [b]) => a - b)
    .map(([step, sum]) => ({ fromDbm: step * stepDb, toDbm: (step + 1) * stepDb, ...sum }));
}
