import type { Reach } from "../../model/diagnosis/why.ts";
import { counted } from "../../model/number-words.ts";
import { type ForwardLink, forwardRangeM, spareDb, usualTag } from "../../model/radio/link-budget.ts";
import { clopperPearsonTails } from "../../statistics/clopper-pearson.ts";
import type { Candidate, DiagnosedPoint, Source } from "../diagnosis/misses/candidate.ts";
import { countsOf, ratioOf } from "../diagnosis/misses/miss-counts.ts";
import { radioOfRound } from "./describe-radio.ts";
import { loggedDistances } from "./logged-numbers.ts";

/** What must be to spare before half of the tags missed is worth a look, half the power: our assumption. */
const allowanceDb = 3;
/** More different distances are put together by the metre. */
const mostDistances = 12;

type Distance = Reach["distances"][number] & { rows: number[] };

/**
 * How far tags were read against how far the settings should reach in free space. Half of the tags missed is the edge of the range: with
 * 3 dB and more to spare it points at a cable, a polarisation or a detuned tag. Fading of single tags is larger, and half of many is not.
 */
export const reach: Source<Reach> = (point) => {
  const radio = radioOfRound(point.walked.facility, point.place);
  if (radio?.eirpDbm == null || radio.usedFrequencyMhz === null)
    return { candidates: [], details: () => null };
  const { stated, eirpDbm, usedFrequencyMhz: frequencyMhz } = radio;
  const link: ForwardLink = {
    eirpDbm,
    frequencyMhz,
    tagGainDbi: stated.tagGainDbi ?? usualTag.gainDbi,
    tagThresholdDbm: stated.tagThresholdDbm ?? usualTag.thresholdDbm,
  };
  const { distances, column } = distancesOf(point, link, stated.distanceM);
  if (distances.length === 0) return { candidates: [], details: () => null };
  const rangeM = forwardRangeM(link);
  const candidate = candidateOf(point, distances, { rangeM, column });
  return {
    candidates: candidate === null ? [] : [candidate],
    details: (pAdjusted) => ({
      rangeM,
      ...link,
      isTagStated: stated.tagThresholdDbm !== null,
      distances: distances.map(({ rows: _, ...distance }) => distance),
      reachedM: distances.findLast(({ presented, missed }) => missed * 2 <= presented)?.distanceM ?? null,
      pAdjusted: candidate === null ? null : pAdjusted(candidate),
    }),
  };
};

/** What was presented and missed at each distance, the nearest first: as logged, else as stated for all. */
function distancesOf(
  { walked, presented }: DiagnosedPoint,
  link: ForwardLink,
  statedM: number | null,
): { distances: Distance[]; column: string | undefined } {
  const logged = loggedDistances(walked);
  const known = [...presented].flatMap((row) => {
    const distanceM = logged?.of(row) ?? statedM;
    return distanceM === null ? [] : [{ row, distanceM }];
  });
  const different = new Set(known.map(({ distanceM }) => distanceM)).size;
  const placeOf = (distanceM: number) =>
    different <= mostDistances ? distanceM : Math.max(1, Math.round(distanceM));
  const groups = new Map<number, number[]>();
  for (const { row, distanceM } of known) {
    const own = groups.get(placeOf(distanceM));
    if (own === undefined) groups.set(placeOf(distanceM), [row]);
    else own.push(row);
  }
  const { presentations, tagsRead } = walked.log.rows;
  const distances = [...groups]
    .sort(([a], [b]) => a - b)
    .map(([distanceM, rows]): Distance => {
      const all = rows.reduce((sum, row) => sum + presentations[row]!, 0);
      const missed = all - rows.reduce((sum, row) => sum + tagsRead[row]!, 0);
      const spare = spareDb(link, distanceM);
      const short = spare >= allowanceDb && missed * 2 > all;
      return { distanceM, presented: all, missed, spareDb: spare, short, rows };
    });
  return { distances, column: logged?.column };
}

/** Null where nothing was missed, or no distance has enough to spare. The p is that of the worst of them, times their number. */
function candidateOf(
  point: DiagnosedPoint,
  distances: readonly Distance[],
  { rangeM, column }: { rangeM: number; column: string | undefined },
): Candidate | null {
  const tested = distances.filter((one) => one.spareDb >= allowanceDb);
  if (point.misses === 0 || tested.length === 0) return null;
  const chances = tested.map(
    ({ missed, presented }) => clopperPearsonTails(missed / presented, presented, 0.5).asMany,
  );
  const worst = tested[chances.indexOf(Math.min(...chances))]!;
  const short = tested.filter((one) => one.short);
  const isEverywhere = short.length === distances.length;
  const rows = new Set(short.flatMap((one) => one.rows));
  const sum = (of: (one: Distance) => number) => short.reduce((all, one) => all + of(one), 0);
  const counts = countsOf(
    point,
    sum(({ missed }) => missed),
    sum(({ presented }) => presented),
  );
  return {
    kind: "reach",
    subject: { distance: `${worst.distanceM} m` },
    p: Math.min(1, Math.min(...chances) * tested.length),
    counts,
    ratio: counts.missed === 0 || counts.elsewherePresented === 0 ? null : ratioOf(counts, point.confidence),
    // Where every tag was that far away there is nothing to compare with.
    covers: isEverywhere ? null : (row) => rows.has(row),
    column,
    explains: isEverywhere ? counts.missed : 0,
    sentence: `At ${worst.distanceM} m, ${worst.missed} of ${counted(worst.presented, "tag", "tags")} were missed, where the settings should reach ${rangeM.toFixed(1)} m in free space and leave ${worst.spareDb.toFixed(1)} dB to spare. Look at cables and connectors with the transmitter off, at how antennas and tags are turned to each other, and at what the tags are fixed to.`,
  };
}
