import { mean, median, sampleVariance } from "simple-statistics";
import type { Antenna } from "../../model/diagnosis/why.ts";
import { counted, countWord } from "../../model/number-words.ts";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi } from "../../model/pass-log.ts";
import { presentationRows, select, type WalkedFacility } from "../../model/rows.ts";
import { clopperPearsonTails } from "../../statistics/clopper-pearson.ts";
import { quantileOfRising } from "../../statistics/numerics/sorted-groups.ts";
import { rankSumP } from "../../statistics/rank-sum.ts";
import { type Hearings, hearingsOf } from "./hearings.ts";
import type { Candidate, DiagnosedPoint, Source } from "./misses/candidate.ts";
import { stateIf } from "./state-if.ts";

/** An antenna that hears less than this share of what it is held against is worth a look: our choice. */
const muchLess = 0.5;

/** The same where nothing was missed: antennas may be meant to hear different shares, so only a striking one is said. Our choice. */
const muchLessUnmissed = 0.25;

/** A loss beside the other antennas that is worth a look, half the power: common practice, no source. */
const noticeableDb = 3;

/** What one antenna heard of the tags presented in a round. */
interface Own {
  heard: number;
  reads: number;
  alone: number;
  medianDbm: number | null;
  /** By pass, in the order walked. */
  passes: { share: number; medianDbm: number | null }[];
}

interface WalkedRound {
  round: string;
  presented: number;
  byAntenna: Map<string, Own>;
  hearings: Hearings;
}

/** What each antenna heard, heard alone, and heard in the round before; an antenna that is silent, or has become weak. */
export const antennas: Source<Antenna[]> = (point) => {
  const now = roundOf(point.walked, point.place, point.presented);
  const before = roundBefore(point);
  const names = namesOf(point, now, before);
  if (names.length === 0 || now.presented === 0) return { candidates: [], details: () => null };
  const candidates = names.flatMap((name) => suspect(point, name, { names, now, before }) ?? []);
  return {
    candidates,
    details: () => names.map((name) => described(point, name, { now, before })),
  };
};

interface Rounds {
  now: WalkedRound;
  before: WalkedRound | null;
}

function roundOf(walked: WalkedFacility, { round }: { round: string }, presented: Int32Array): WalkedRound {
  const { log } = walked;
  const hearings = hearingsOf(walked, presented);
  const { row, antenna, antennas: names, levels, levelsOf, reads, length } = hearings;
  const { pass, tag } = log.rows;
  const presentedIn = new Int32Array(log.passes.length);
  let named = 0;
  for (let i = 0; i < presented.length; i += 1) {
    const one = presented[i]!;
    if (tag[one] === -1) continue;
    presentedIn[pass[one]!]! += 1;
    named += 1;
  }
  const passesWalked: number[] = [];
  const placeOf = new Int32Array(log.passes.length);
  presentedIn.forEach((count, number) => {
    if (count > 0) placeOf[number] = passesWalked.push(number) - 1;
  });
  const cellOf = new Int32Array(length);
  const heardIn = new Int32Array(names.length * passesWalked.length);
  const readsOf = new Float64Array(names.length);
  for (let i = 0; i < length; i += 1) {
    const cell = antenna[i]! * passesWalked.length + placeOf[pass[row[i]!]!]!;
    cellOf[i] = cell;
    heardIn[cell]! += 1;
    readsOf[antenna[i]!]! += reads[i]!;
  }
  const alone = heardAlone(log.rows.length, hearings);
  const ofCell = levels.grouped(heardIn.length, cellOf);
  const byAntenna = new Map<string, Own>();
  for (const [i, name] of names.entries()) {
    const own = heardIn.subarray(i * passesWalked.length, (i + 1) * passesWalked.length);
    const heard = own.reduce((sum, count) => sum + count, 0);
    if (heard === 0) continue;
    const passes = passesWalked.map((number, place) => {
      const medianDbm = medianOf(ofCell(i * passesWalked.length + place));
      return { share: own[place]! / presentedIn[number]!, medianDbm };
    });
    const medianDbm = medianOf(levelsOf(i));
    byAntenna.set(name, { heard, reads: readsOf[i]!, alone: alone[i]!, medianDbm, passes });
  }
  return { round, presented: named, byAntenna, hearings };
}

/** By antenna: the rows that no other one heard. Where not every antenna is named nobody knows, and nothing is counted. */
function heardAlone(rows: number, { row, antenna, antennas, areAllNamed }: Hearings): Int32Array {
  const alone = new Int32Array(antennas.length);
  if (!areAllNamed) return alone;
  const heardBy = new Uint16Array(rows);
  for (const one of row) heardBy[one]! += 1;
  row.forEach((one, i) => {
    if (heardBy[one] === 1) alone[antenna[i]!]! += 1;
  });
  return alone;
}

function medianOf(rising: Float64Array): number | null {
  return rising.length === 0 ? null : quantileOfRising(rising, 0.5);
}

/** The last round before the judged one that was walked here with antennas named. */
function roundBefore({ walked, readPoint, place }: DiagnosedPoint): WalkedRound | null {
  const { rounds } = walked.facility;
  const earlier = rounds.slice(
    0,
    rounds.findIndex(({ id }) => id === place.round),
  );
  for (const { id } of earlier.reverse()) {
    const other = { readPoint: readPoint.id, round: id };
    const presented = presentationRows(select(walked, other));
    if (presented.length === 0) continue;
    const round = roundOf(walked, other, presented);
    if (round.byAntenna.size > 0) return round;
  }
  return null;
}

/** Antennas that either round names, and those that the equipment must have: of `antennas: 4`, 1 to 4. */
function namesOf({ readPoint }: DiagnosedPoint, now: WalkedRound, before: WalkedRound | null): string[] {
  const names = new Set([...now.byAntenna.keys(), ...(before?.byAntenna.keys() ?? [])]);
  if (now.byAntenna.size === 0) return [];
  const stated = numberOfAntennas(readPoint.equipment.antennas ?? "");
  const listed = Array.from({ length: stated }, (_, i) => String(i + 1));
  if ([...names].every((name) => listed.includes(name))) for (const name of listed) names.add(name);
  return [...names].sort(byNaturalOrder);
}

function numberOfAntennas(text: string): number {
  const [first = ""] = text.trim().toLowerCase().split(/\s+/);
  if (/^\d{1,2}$/.test(first)) return Number(first);
  return Math.max(
    0,
    Array.from({ length: 13 }, (_, i) => i).findIndex((i) => i > 0 && countWord(i) === first),
  );
}

function described(point: DiagnosedPoint, name: string, { now, before }: Rounds): Antenna {
  const own = now.byAntenna.get(name);
  return {
    antenna: name,
    heard: own?.heard ?? 0,
    reads: own === undefined || own.reads === 0 ? null : own.reads,
    alone: now.hearings.areAllNamed ? (own?.alone ?? 0) : null,
    silent: own === undefined,
    stateWithout: now.hearings.areAllNamed ? stateWithout(point, name, now) : null,
    medianDbm: own?.medianDbm ?? null,
    change: changeOf(name, { now, before }),
  };
}

/** The state of the read point if the antenna had heard nothing. */
function stateWithout(
  point: DiagnosedPoint,
  name: string,
  { hearings }: WalkedRound,
): Antenna["stateWithout"] {
  const { walked, readPoint } = point;
  const { rows } = walked.log;
  const number = hearings.antennas.indexOf(name);
  const tagsRead = rows.tagsRead.slice();
  const rssiDbm = rows.rssiDbm.slice();
  const isOwn = new Uint8Array(rows.length);
  for (let i = 0; i < hearings.length; i += 1) {
    if (hearings.antenna[i] !== number) continue;
    const row = hearings.row[i]!;
    isOwn[row] = 1;
    tagsRead[row] = 0;
    rssiDbm[row] = noRssi;
  }
  for (let i = 0; i < hearings.length; i += 1) {
    const row = hearings.row[i]!;
    if (isOwn[row] === 0 || hearings.antenna[i] === number) continue;
    tagsRead[row] = rows.tagsRead[row]!;
    rssiDbm[row] = Math.max(rssiDbm[row]!, hearings.levels.dBm[i]!);
  }
  return stateIf({ ...walked, log: { ...walked.log, rows: { ...rows, tagsRead, rssiDbm } } }, readPoint);
}

function passMedians({ passes }: Own): number[] {
  return passes.flatMap(({ medianDbm }) => (medianDbm === null ? [] : [medianDbm]));
}

/** Its signal against the round before, by the medians of passes; the scatter is the pooled standard deviation of these. */
function changeOf(name: string, { now, before }: Rounds): Antenna["change"] {
  const own = now.byAntenna.get(name);
  const earlier = before?.byAntenna.get(name);
  if (before === null || own === undefined || earlier === undefined) return null;
  const [left, right] = [passMedians(own), passMedians(earlier)];
  if (left.length < 2 || right.length < 2) return null;
  const changeDb = mean(left) - mean(right);
  const squares = (values: number[]) => sampleVariance(values) * (values.length - 1);
  const scatterDb = Math.sqrt((squares(left) + squares(right)) / (left.length + right.length - 2));
  return {
    round: before.round,
    medianDbm: earlier.medianDbm!,
    changeDb,
    scatterDb,
    weaker: changeDb < -scatterDb,
  };
}

/** Why to look at an antenna: it heard nothing, or much less than the others or than before; null where there is no cause. */
function suspect(
  point: DiagnosedPoint,
  name: string,
  { names, now, before }: Rounds & { names: readonly string[] },
): Candidate | null {
  const own = now.byAntenna.get(name);
  const share = (own?.heard ?? 0) / now.presented;
  const earlier = before?.byAntenna.get(name);
  const earlierShare = earlier === undefined ? null : earlier.heard / before!.presented;
  const others = names.filter((other) => other !== name && now.byAntenna.has(other));
  const usual = others.length === 0 ? null : median(others.map((other) => now.byAntenna.get(other)!.heard));
  const usualShare = usual === null ? null : usual / now.presented;
  const expected = earlierShare ?? usualShare ?? share;
  // While an antenna hears much less than it should, every miss may be its own; it goes before the tags that it misses.
  const missesExplained = now.hearings.areAllNamed && share < muchLess * expected ? point.misses : 0;
  const made = (p: number | null, sentence: string): Candidate => ({
    kind: "antenna",
    subject: { antenna: name },
    p,
    counts: null,
    ratio: null,
    covers: null,
    explains: missesExplained,
    sentence,
  });
  const work = "Look at its cable, port and aim, with the transmitter off.";
  const heard = `of ${counted(now.presented, "presentation", "presentations")}`;
  if (own === undefined) {
    const known =
      earlier === undefined ? "" : `, and ${earlier.heard} of ${before!.presented} in round ${before!.round}`;
    return made(null, `Antenna ${name} heard none ${heard}${known}. ${work}`);
  }
  const tests: { p: number; sentence: string }[] = [];
  const change = changeOf(name, { now, before });
  if (change?.weaker === true && isAlone(name, others, { now, before })) {
    tests.push({
      p: rankSumP(passMedians(own), passMedians(earlier!)),
      sentence: `The signal of antenna ${name} fell by ${(-change.changeDb).toFixed(1)} dB since round ${change.round}; from pass to pass it scatters by ${change.scatterDb.toFixed(1)} dB. ${work}`,
    });
  }
  if (earlierShare !== null && share < muchLess * earlierShare && fellMost(name, others, { now, before })) {
    const shares = ({ passes }: Own) => passes.map((pass) => pass.share);
    tests.push({
      p: rankSumP(shares(own), shares(earlier!)),
      sentence: `Antenna ${name} heard ${own.heard} ${heard}, and ${earlier!.heard} of ${before!.presented} in round ${before!.round}. ${work}`,
    });
  }
  const unmissed = now.hearings.areAllNamed ? muchLessUnmissed : 0;
  const least = point.misses > 0 ? muchLess : unmissed;
  if (usualShare !== null && others.length > 1 && share < least * usualShare) {
    tests.push({
      p: fewerThanUsual(
        own,
        others.map((other) => now.byAntenna.get(other)!),
      ),
      sentence: `Antenna ${name} heard ${own.heard} ${heard}, the others ${usual} in the median. ${work}`,
    });
  }
  const best = tests.sort((a, b) => a.p - b.p)[0];
  return best === undefined ? null : made(Math.min(1, best.p * tests.length), best.sentence);
}

/** Whether the other antennas kept their signal better: where all fell alike, it is no fault of one. */
function isAlone(name: string, others: readonly string[], rounds: Rounds): boolean {
  const own = changeOf(name, rounds)!;
  const changes = others.flatMap((other) => changeOf(other, rounds)?.changeDb ?? []);
  return changes.length === 0 || own.changeDb < median(changes) - Math.max(own.scatterDb, noticeableDb);
}

/** Whether the other antennas kept more of what they heard. */
function fellMost(name: string, others: readonly string[], { now, before }: Rounds): boolean {
  const kept = (antenna: string): number[] => {
    const [own, earlier] = [now.byAntenna.get(antenna), before!.byAntenna.get(antenna)];
    if (own === undefined || earlier === undefined || earlier.heard === 0) return [];
    return [own.heard / now.presented / (earlier.heard / before!.presented)];
  };
  const usual = others.flatMap(kept);
  return usual.length === 0 || kept(name)[0]! < muchLess * median(usual);
}

/** A sign test over passes: how often it would hear less than the others in the median in as many passes, were it like them. */
function fewerThanUsual(own: Own, others: readonly Own[]): number {
  let fewer = 0;
  let differing = 0;
  own.passes.forEach(({ share }, i) => {
    const usual = median(others.map(({ passes }) => passes[i]!.share));
    if (share === usual) return;
    differing += 1;
    if (share < usual) fewer += 1;
  });
  return differing === 0 ? 1 : clopperPearsonTails(fewer / differing, differing, 0.5).asMany;
}
