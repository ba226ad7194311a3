import type { ReaderRead } from "./reader-reads.ts";

/** What a log holds besides its reads: line numbers among the data, from 0, and what stands in front of that line. */
export interface Blemishes {
  /** Lines that are written twice, as a join of two overlapping exports leaves them. */
  repeated: number[];
  /** Lines that are no reads. */
  odd: { before: number; line: string }[];
  /** The log was still being written when it was copied: how much of its last line is there. */
  lastLineLength: number | null;
}

/** A standard reader report: commas, a header, microseconds since 1970 in UTC. */
export function plainReport(reads: ReaderRead[], blemishes: Blemishes): string {
  const lines = reads.map(({ us, reader, tag, antenna, rssiDbm, count }) =>
    [us, reader, tag, antenna, rssiDbm.toFixed(1), count].join(","),
  );
  const header = "FirstSeenTimestampUTC,ReaderName,EPC,AntennaID,PeakRSSI,TagSeenCount";
  return `${header}\n${body(lines, blemishes)}`;
}

/**
 * The log of a reader that goes by its own clock: settings and header in comments, semicolons and decimal commas, local
 * times without an offset, codes in lower case behind 0x.
 */
export function ownDialect(
  reads: ReaderRead[],
  blemishes: Blemishes,
  offsetHours: number,
  fastS: number,
): string {
  const lines = reads.map(({ us, tag, antenna, rssiDbm, count }) =>
    [
      localTime(us + fastS * 1_000_000 + offsetHours * 3_600_000_000),
      antenna,
      `0x${tag.toLowerCase()}`,
      rssiDbm.toFixed(1).replace(".", ","),
      count,
    ].join(";"),
  );
  const head = [
    "# Pellmark C2 tag log",
    "# power: 22,0 dBm; session: 1; clock: internal, not set by the network",
    "# time;antenna;epc;rssi;reads",
  ];
  return `${head.join("\n")}\n${body(lines, blemishes)}`;
}

function localTime(us: number): string {
  const text = new Date(Math.floor(us / 1000)).toISOString();
  return text.replace("Z", "").replace(".", ",");
}

function body(lines: string[], { repeated, odd, lastLineLength }: Blemishes): string {
  const written = lines.flatMap((line, index) => [
    ...odd.filter(({ before }) => before === index).map((each) => each.line),
    ...(repeated.includes(index) ? [line, line] : [line]),
  ]);
  const text = `${written.join("\n")}\n`;
  return lastLineLength === null ? text : text.slice(0, -(written.at(-1)!.length - lastLineLength + 1));
}
