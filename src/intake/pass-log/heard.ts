import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import { type Heard, type IdleStays, type IdleTag, type IdleTime, noRssi } from "../../model/pass-log.ts";
import { type IdleCode, type IdleStay, type PassWindow, rssiDbmOf } from "../reader-log/reader-log.ts";
import type { FacilityLogs } from "./read.ts";
import type { ReaderEvidence } from "./timed-passes.ts";

const minuteUs = 60_000_000;

/** The new numbers of passes and tags in the finished log. */
interface Ranks {
  pass: Int32Array;
  tag: Int32Array;
}

/** What the readers read, in the order and the numbers of the finished log. */
export function normaliseHeard(evidence: ReaderEvidence, rank: Ranks, logs: FacilityLogs): Heard {
  const { logs: read, windows, tagOfCode } = evidence;
  const { heard } = read;
  const opensUs = new Map(windows.map((window) => [window.pass, window.fromUs]));
  const passOf = (i: number) => rank.pass[heard.pass[i]!]!;
  const tagOf = (i: number) => rank.tag[tagOfCode[heard.code[i]!]!]!;
  const place = Float64Array.from(heard.pass, (_, i) => passOf(i) * rank.tag.length + tagOf(i));
  const order = Array.from({ length: heard.length }, (_, i) => i).sort(
    (a, b) => place[a]! - place[b]! || heard.antenna[a]! - heard.antenna[b]!,
  );
  const sinceOpen = (us: Float64Array, i: number) => (us[i]! - opensUs.get(heard.pass[i]!)!) / 1000;
  return {
    length: heard.length,
    pass: Int32Array.from(order, passOf),
    tag: Int32Array.from(order, tagOf),
    antenna: Int16Array.from(order, (i) => heard.antenna[i]!),
    antennas: heard.antennas,
    reads: Float64Array.from(order, (i) => heard.reads[i]!),
    rssiDbm: Float64Array.from(order, (i) => rssiDbmOf(heard.rssi[i]!)),
    firstMs: Float64Array.from(order, (i) => sinceOpen(heard.firstUs, i)),
    ...minutesOf(order.map((i) => Math.floor(heard.firstUs[i]! / minuteUs))),
    idle: idleTimes(evidence, logs),
    weakest: read.weakest.map(({ readPoint, rssi }) => ({ readPoint, dbm: rssiDbmOf(rssi) })),
    settings: loggedSettings(evidence, logs),
  };
}

/** A log's settings hold for every round that was walked at its read points in the time that it covers. */
function loggedSettings({ logs, sessions }: ReaderEvidence, { facility }: FacilityLogs): Heard["settings"] {
  return logs.settings.flatMap(({ path, readPoints, fromUs, toUs, values }) =>
    sessions
      .filter((one) => readPoints.includes(one.readPoint) && one.fromUs <= toUs && one.toUs >= fromUs)
      .map(({ readPoint, round }) => ({ file: path, readPoint, round: facility.rounds[round]!.id, values })),
  );
}

/** Each different minute as a text once, in the order met. */
function minutesOf(all: readonly number[]): Pick<Heard, "minute" | "minutes"> {
  const places = new Map<number, number>();
  const minute = Int32Array.from(all, (one) => {
    const place = places.get(one) ?? places.size;
    places.set(one, place);
    return place;
  });
  return { minute, minutes: [...places.keys()].map(minuteText) };
}

/** By read point and round: the time of the walk, less the windows. */
function idleTimes(evidence: ReaderEvidence, { facility, table }: FacilityLogs): IdleTime[] {
  const { logs, sessions, windows, tagsOfLoads } = evidence;
  const tagsOf = (index: number) => {
    const codes = logs.idleCodes.filter(({ session }) => session === index);
    return idleTags(codes, (code) => table.tags.texts[tagsOfLoads.get(code) ?? -1] ?? code);
  };
  return sessions.map(({ readPoint, round, fromUs, toUs, walkedUs }, index) => ({
    readPoint,
    round: facility.rounds[round]!.id,
    minutes: (toUs - fromUs - walkedUs) / minuteUs,
    heard: logs.idle
      .filter(({ session }) => session === index)
      .map(({ minute, reads, tags }) => ({ minute: minuteText(minute), reads, tags })),
    clockMinutes: Math.floor(toUs / minuteUs) - Math.floor(fromUs / minuteUs) + 1,
    stays: staysOf(
      logs.stays.filter(({ session }) => session === index),
      windows.filter(
        (window) => window.readPoint === readPoint && window.toUs >= fromUs && window.fromUs <= toUs,
      ),
    ),
    tags: tagsOf(index),
  }));
}

/** By tag; codes of one tag stand one after another. */
function idleTags(codes: readonly IdleCode[], tagOf: (code: string) => string): IdleTag[] {
  const tags: IdleTag[] = [];
  let before: string | null = null;
  for (const { code, antenna, reads, rssi } of codes) {
    if (code !== before) tags.push({ tag: tagOf(code), reads: 0, rssiDbm: noRssi, antennas: [] });
    before = code;
    const own = tags.at(-1)!;
    own.reads += reads;
    own.rssiDbm = Math.max(own.rssiDbm, rssiDbmOf(rssi));
    if (antenna !== null) own.antennas.push(antenna);
  }
  for (const { antennas } of tags) antennas.sort(byNaturalOrder);
  return tags.sort((a, b) => byCodePoint(a.tag, b.tag));
}

/** How long tags stayed; clock minutes that windows take whole are no part of a stay. */
function staysOf(stays: readonly IdleStay[], windows: readonly PassWindow[]): IdleStays {
  const taken = minutesTaken(windows);
  const minutesOf = ({ first, last }: IdleStay) =>
    last - first + 1 - taken.filter((minute) => minute > first && minute < last).length;
  return {
    tags: stays.reduce((sum, { tags }) => sum + tags, 0),
    squares: stays.reduce((sum, { squares }) => sum + squares, 0),
    longestMinutes: stays.reduce((longest, stay) => Math.max(longest, minutesOf(stay)), 0),
  };
}

/** Clock minutes that lie wholly in windows, which do not overlap; minutes since 1970. */
function minutesTaken(windows: readonly PassWindow[]): number[] {
  const takenUs = new Map<number, number>();
  for (const { fromUs, toUs } of windows) {
    for (let minute = Math.floor(fromUs / minuteUs); minute * minuteUs <= toUs; minute += 1) {
      const us = Math.min(toUs + 1, (minute + 1) * minuteUs) - Math.max(fromUs, minute * minuteUs);
      takenUs.set(minute, (takenUs.get(minute) ?? 0) + us);
    }
  }
  return [...takenUs].filter(([, us]) => us >= minuteUs).map(([minute]) => minute);
}

function minuteText(minute: number): string {
  return new Date(minute * 60_000).toISOString().replace(/:\d{2}\.\d{3}Z$/, "Z");
}
