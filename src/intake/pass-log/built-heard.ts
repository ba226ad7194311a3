import { type Heard, type IdleTime, noRssi } from "../../model/pass-log.ts";
import {
  noHundredths,
  type PassWindow,
  type ReaderLogs,
  type WalkSession,
} from "../reader-log/reader-log.ts";
import type { LogContext } from "./log-context.ts";

const minuteUs = 60_000_000;

/**
 * What the readers heard, in the order and the numbers of the finished log: `rank` gives the new number of each pass,
 * `tags` of each tag.
 */
export function builtHeard(
  logs: ReaderLogs,
  windows: PassWindow[],
  sessions: WalkSession[],
  tagOfCode: Int32Array,
  context: LogContext,
  passRank: Int32Array,
  tagRank: Int32Array,
): Heard {
  const { heard } = logs;
  const opensUs = new Map(windows.map((window) => [window.pass, window.fromUs]));
  const order = Array.from({ length: heard.length }, (_, i) => i).sort(
    (a, b) =>
      passRank[heard.pass[a]!]! - passRank[heard.pass[b]!]! ||
      tagRank[tagOfCode[heard.code[a]!]!]! - tagRank[tagOfCode[heard.code[b]!]!]! ||
      heard.antenna[a]! - heard.antenna[b]!,
  );
  const sinceOpen = (us: Float64Array, i: number) => (us[i]! - opensUs.get(heard.pass[i]!)!) / 1000;
  return {
    length: heard.length,
    pass: Int32Array.from(order, (i) => passRank[heard.pass[i]!]!),
    tag: Int32Array.from(order, (i) => tagRank[tagOfCode[heard.code[i]!]!]!),
    antenna: Int16Array.from(order, (i) => heard.antenna[i]!),
    antennas: heard.antennas,
    reads: Float64Array.from(order, (i) => heard.reads[i]!),
    rssiDbm: Float64Array.from(order, (i) =>
      heard.rssi[i] === noHundredths ? noRssi : heard.rssi[i]! / 100,
    ),
    firstMs: Float64Array.from(order, (i) => sinceOpen(heard.firstUs, i)),
    lastMs: Float64Array.from(order, (i) => sinceOpen(heard.lastUs, i)),
    idle: idleTimes(logs, sessions, context),
  };
}

/** By read point and round: the time of the walk, less the windows. */
function idleTimes(logs: ReaderLogs, sessions: WalkSession[], { facility }: LogContext): IdleTime[] {
  return sessions.map(({ readPoint, round, fromUs, toUs, walkedUs }, index) => ({
    readPoint,
    round: facility.rounds[round]!.id,
    minutes: (toUs - fromUs - walkedUs) / minuteUs,
    heard: logs.idle
      .filter(({ session }) => session === index)
      .map(({ minute, reads, tags }) => ({ minute: minuteText(minute), reads, tags })),
    clockMinutes: Math.floor(toUs / minuteUs) - Math.floor(fromUs / minuteUs) + 1,
  }));
}

function minuteText(minute: number): string {
  return new Date(minute * 60_000).toISOString().replace(/:\d{2}\.\d{3}Z$/, "Z");
}
