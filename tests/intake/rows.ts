import { noRssi, type PassLog } from "../../src/model/pass-log.ts";

/** The rows of a log as objects, in the order they are kept. */
export function rowsOf({ passes, rows, tags }: PassLog) {
  return Array.from({ length: rows.length }, (_, i) => ({
    pass: passes[rows.pass[i]!]!.id,
    tag: rows.tag[i]! < 0 ? null : tags[rows.tag[i]!]!,
    role: rows.role[i],
    presentations: rows.presentations[i],
    tagsRead: rows.tagsRead[i],
    readCount: rows.readCounts[i],
    rssiDbm: rows.rssiDbm[i] === noRssi ? null : rows.rssiDbm[i],
    antenna: rows.antenna[i]! < 0 ? null : rows.antennas[rows.antenna[i]!]!,
    columns: Object.fromEntries(
      [...rows.columns].map(([name, c]) => [name, c.index[i]! < 0 ? null : c.values[c.index[i]!]!]),
    ),
  }));
}
