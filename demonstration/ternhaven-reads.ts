import { type Blemishes, ownDialect, plainReport } from "./reader-log-text.ts";
import { type Listening, type ReaderRead, readerReads } from "./reader-reads.ts";
import type { WalkedPass } from "./walk.ts";

/** The passes of one round at the read points whose readers' logs are kept. */
interface WalkedRound {
  round: string;
  date: string;
  doorB: WalkedPass[];
  gate: WalkedPass[];
  returns: WalkedPass[];
}

interface NearBy {
  crates: string[];
  storeTags: string[];
  rawTags: string[];
  /** Cages that are carried past a read point once while it is idle. */
  carriedPast: string[];
}

const offsetHours = -3;
const offset = "-03:00";
/** How far the clock of the returns conveyor's reader is ahead: facility.yaml takes it back. */
const fastS = 32;

/** The readers' own logs of the depot, by path inside its folder. */
export function ternhavenReads(
  seed: string,
  rounds: WalkedRound[],
  { crates, storeTags, rawTags, carriedPast }: NearBy,
): Map<string, string> {
  const files = new Map<string, string>();
  const returns: ReaderRead[] = [];
  for (const { round, date, doorB, gate, returns: onBelt } of rounds) {
    const found = round === "as-found";
    const listening = (reader: string): Omit<Listening, "nearBy" | "heardBetween"> => ({
      label: `${seed}/reads/${reader}/${round}`,
      reader,
      antennas: 4,
      lonelyAntenna: null,
      offset,
    });
    // Before the retune door and pedestal hear what stands near by again and again, afterwards only what is carried past.
    const nearBy = (standing: string[], moving: string[]): Listening["nearBy"] =>
      found ? { tags: standing, stays: true } : { tags: moving, stays: false };
    const atDoor = readerReads(doorB, {
      ...listening("R-31"),
      lonelyAntenna: 4,
      nearBy: nearBy([...rawTags, ...storeTags.slice(8, 14)], carriedPast.slice(0, 12)),
      heardBetween: found ? 0.4 : 0.2,
    });
    const atGate = readerReads(gate, {
      ...listening("R-32"),
      antennas: 2,
      nearBy: nearBy(storeTags.slice(0, 8), carriedPast.slice(12, 24)),
      heardBetween: found ? 0.25 : 0.05,
    });
    files.set(
      `reads/doors-${date}.csv`,
      plainReport([...onBench(date, crates), ...atDoor, ...atGate], found ? foundBlemishes : leftBlemishes),
    );
    returns.push(
      ...readerReads(onBelt, {
        ...listening("C-1"),
        antennas: 2,
        nearBy: { tags: storeTags.slice(14, 20), stays: true },
        heardBetween: found ? 0.5 : 0.25,
      }),
    );
  }
  files.set("reads/returns-1.csv", ownDialect(returns, returnsBlemishes, offsetHours, fastS));
  return files;
}

/** A reader on the bench that wrote into the same report: no read point of the depot. */
function onBench(date: string, crates: string[]): ReaderRead[] {
  const us = Date.parse(`${date}T09:30:00${offset}`) * 1000;
  return crates.slice(20, 24).map((tag, index) => ({
    us: us + index * 1_250_417,
    reader: "R-99",
    tag,
    antenna: 1,
    rssiDbm: -48.5 - index,
    count: 6 + index,
  }));
}

const foundBlemishes: Blemishes = {
  repeated: [40, 41, 42, 43, 44, 45],
  odd: [
    { before: 118, line: "R-31 restarted" },
    // A digit of the code was lost on the way.
    { before: 412, line: "1780925680345678,R-31,331645AA3C00194000097B0,2,-58.5,3" },
    // The reader's clock before it was first set.
    { before: 730, line: "0,R-31,331645AA3C001940000977A3,2,-61.0,1" },
  ],
  lastLineLength: 31,
};

const leftBlemishes: Blemishes = { repeated: [905, 906], odd: [], lastLineLength: null };

const returnsBlemishes: Blemishes = {
  repeated: [12, 300],
  odd: [
    { before: 90, line: "2026-06-08T16:4" },
    { before: 211, line: "2026-06-08T25:61:07,114;1;0x331645aa3c00194000097788;-57,5;2" },
  ],
  lastLineLength: null,
};
