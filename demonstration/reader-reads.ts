import type { RandomStream } from "./random-stream.ts";
import { randomStream } from "./random-stream.ts";
import type { WalkedPass, WalkedTag } from "./walk.ts";

/** One line of a reader's own log: some reads of one tag by one antenna. */
export interface ReaderRead {
  /** Microseconds since 1970, by the pass sheet's clock. */
  us: number;
  reader: string;
  tag: string;
  antenna: number;
  rssiDbm: number;
  count: number;
}

export interface Listening {
  label: string;
  /** The reader's name in its log. */
  reader: string;
  antennas: number;
  /** An antenna that hears what no other does: edge-on tags at the top of the load. */
  lonelyAntenna: number | null;
  /** Offset of the wall clock that the passes go by. */
  offset: string;
  /** What stands near by while nothing is presented, heard again and again, or what is carried past, each once. */
  nearBy: { tags: string[]; stays: boolean };
  /** How likely something near by is heard between two passes. */
  heardBetween: number;
}

/** Nothing is heard so close to an edge of a window that rounding could move it across. */
const marginUs = 20_000;

const instantUs = (wall: string, offset: string): number =>
  Date.parse(`${wall.replace(" ", "T")}${offset}`) * 1000;

const toHalfDb = (dbm: number): number => Math.round(Math.max(-79, dbm) * 2) / 2;

/** What a reader would have written of these passes: a few lines a tag heard, and what it heard between them. */
export function readerReads(passes: WalkedPass[], listening: Listening): ReaderRead[] {
  const stream = randomStream(listening.label);
  const reads: ReaderRead[] = [];
  const carriedPast = listening.nearBy.stays ? null : stream.shuffled(listening.nearBy.tags);
  passes.forEach((pass, index) => {
    const fromUs = instantUs(pass.startedAt, listening.offset);
    const toUs = instantUs(pass.endedAt, listening.offset);
    for (const tag of [...pass.presented, ...pass.bystanders, ...pass.strays])
      if (tag.read) reads.push(...linesOf(tag, fromUs, toUs, listening, stream));
    const next = passes[index + 1];
    const nextUs = next === undefined ? toUs + 60_000_000 : instantUs(next.startedAt, listening.offset);
    if (stream.chance(listening.heardBetween)) {
      const tags = carriedPast ?? stream.shuffled(listening.nearBy.tags);
      const heard = stream.integer(1, 2);
      const between = { fromUs: toUs + 3_000_000, toUs: nextUs - 3_000_000 };
      const audible = carriedPast === null ? tags.slice(0, heard) : tags.splice(0, heard);
      reads.push(...linesBetween(between, audible, listening, stream));
    }
  });
  return reads.sort((a, b) => a.us - b.us || (a.tag < b.tag ? -1 : 1) || a.antenna - b.antenna);
}

/** The first line is the strongest; the second is of another antenna, where the tag is not one that only the lonely one hears. */
function linesOf(
  tag: WalkedTag,
  fromUs: number,
  toUs: number,
  listening: Listening,
  stream: RandomStream,
): ReaderRead[] {
  const { reader, antennas, lonelyAntenna } = listening;
  const isLonely = lonelyAntenna !== null && tag.orientation === "edge-on" && tag.level === "top";
  const lines = Math.min(tag.reads, stream.integer(2, 3));
  const middle = 0.3 + 0.4 * stream.uniform();
  let left = tag.reads;
  return Array.from({ length: lines }, (_, line) => {
    const count = line === lines - 1 ? left : stream.integer(1, left - (lines - 1 - line));
    left -= count;
    const share = line === 0 ? middle : middle + (1 - middle) * stream.uniform();
    const further = line === 1 ? stream.integer(1, antennas - 1) : stream.integer(0, antennas - 1);
    return {
      us: Math.round(fromUs + marginUs + share * (toUs - fromUs - 2 * marginUs)) + stream.integer(0, 999),
      reader,
      tag: tag.tag,
      antenna: isLonely ? lonelyAntenna : ((tag.antenna! - 1 + (line === 0 ? 0 : further)) % antennas) + 1,
      rssiDbm: line === 0 ? tag.rssiDbm! : toHalfDb(tag.rssiDbm! - 1 - 7 * stream.uniform()),
      count,
    };
  });
}

/** How long something that is carried past is in reach. */
const carriedPastUs = 40_000_000;

function linesBetween(
  { fromUs, toUs }: { fromUs: number; toUs: number },
  tags: string[],
  { reader, antennas, nearBy }: Listening,
  stream: RandomStream,
): ReaderRead[] {
  if (toUs <= fromUs) return [];
  return tags.flatMap((tag) => {
    const reachUs = nearBy.stays ? toUs - fromUs : Math.min(carriedPastUs, toUs - fromUs);
    const startUs = nearBy.stays ? fromUs : fromUs + Math.floor(stream.uniform() * (toUs - fromUs - reachUs));
    return Array.from({ length: stream.integer(1, 2) }, () => ({
      us: startUs + Math.floor(stream.uniform() * reachUs),
      reader,
      tag,
      antenna: stream.integer(1, antennas),
      rssiDbm: toHalfDb(-66 - 8 * stream.uniform()),
      count: stream.integer(1, 3),
    }));
  });
}
