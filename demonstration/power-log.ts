import { csvText } from "../src/pages/parts/csv-text.ts";
import { randomStream } from "./random-stream.ts";

interface PowerWalk {
  seed: string;
  readPoint: string;
  round: string;
  powersDbm: readonly number[];
  /** Presented at every power. */
  tags: number;
  /** The power at which half of the tags are read, and how much the log odds rise with a dB. */
  halfDbm: number;
  slope: number;
}

/** Tags read at falling powers, counted: the share read is logistic in the power. */
export function powerLog({ seed, readPoint, round, powersDbm, tags, halfDbm, slope }: PowerWalk): string {
  const luck = randomStream(`${seed}/power/${readPoint}/${round}`);
  const rows = powersDbm.map((dbm) => {
    const share = 1 / (1 + Math.exp(-slope * (dbm - halfDbm)));
    const read = Array.from({ length: tags }, () => luck.chance(share)).filter((isRead) => isRead).length;
    return [round, readPoint, String(dbm), String(tags), String(read)];
  });
  return csvText([["round", "read_point", "power_dbm", "tags_presented", "tags_read"], ...rows], {
    separator: ",",
    lineEnd: "\n",
    quoted: /[",\r\n]/,
    guarded: (text) => text,
  });
}
