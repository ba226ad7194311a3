import { csvText } from "../src/pages/parts/csv-text.ts";
import { randomStream } from "./random-stream.ts";

interface PowerWalk {
  seed: string;
  readPoint: string;
  round: string;
  powersDbm: readonly number[];
  /** The same ones at every power. */
  tags: number;
  /** The power at which half of the tags are read, and how much the log odds of the share read rise with a dB. */
  halfDbm: number;
  slope: number;
}

/** Tags read at falling powers, counted. Each is read from a power of its own on, so that the share read is logistic in the power. */
export function powerLog({ seed, readPoint, round, powersDbm, tags, halfDbm, slope }: PowerWalk): string {
  const luck = randomStream(`${seed}/power/${readPoint}/${round}`);
  // The share of all tags that are read at lower powers than this one.
  const ranks = Array.from({ length: tags }, () => luck.uniform());
  const rows = powersDbm.map((dbm) => {
    const share = 1 / (1 + Math.exp(-slope * (dbm - halfDbm)));
    const read = ranks.filter((rank) => rank < share).length;
    return [round, readPoint, String(dbm), String(tags), String(read)];
  });
  return csvText([["round", "read_point", "power_dbm", "tags_presented", "tags_read"], ...rows], {
    separator: ",",
    lineEnd: "\n",
    quoted: /[",\r\n]/,
    guarded: (text) => text,
  });
}
