import type { Facility, Round } from "../../../src/model/facility.ts";
import { noRssi } from "../../../src/model/pass-log.ts";
import { indexRows, type WalkedFacility } from "../../../src/model/rows.ts";
import { facility, type WalkedRow, walked } from "../walked.ts";

/** One row of a walk, with what each antenna's reads of the tag came to: its strongest level in dBm. */
export interface HeardRow extends Omit<WalkedRow, "antenna"> {
  by?: Record<string, number>;
  /** After the pass opens; 0 where left out. */
  firstMs?: number;
}

/** What the analysis starts from where readers' own logs say who was read: a tag is read if any antenna heard it. */
export function heardFacility(said: Partial<Facility>, rows: readonly HeardRow[]): WalkedFacility {
  const levels = rows.map(({ by }) => Object.values(by ?? {}));
  const log = walked(
    rows.map(({ by, ...row }, i) => ({
      ...row,
      read: levels[i]!.length > 0,
      readCount: levels[i]!.length,
      rssiDbm: levels[i]!.length === 0 ? noRssi : Math.max(...levels[i]!),
    })),
  );
  for (const pass of log.passes) Object.assign(pass, { form: "timed", readsFrom: "reader-log" });
  const minutes: string[] = [];
  const minuteOf = (pass: number, firstMs: number) => {
    const { startedAt } = log.passes[pass]!;
    const opensMs = startedAt === null ? 0 : Date.parse(startedAt);
    const text = `${new Date(opensMs + firstMs).toISOString().slice(0, 16)}Z`;
    return minutes.includes(text) ? minutes.indexOf(text) : minutes.push(text) - 1;
  };
  const antennas = [...new Set(rows.flatMap(({ by }) => Object.keys(by ?? {})))].sort();
  const entries = rows
    .flatMap(({ by, firstMs = 0 }, row) =>
      Object.entries(by ?? {}).map(([antenna, level]) => ({
        pass: log.rows.pass[row]!,
        tag: log.rows.tag[row]!,
        antenna: antennas.indexOf(antenna),
        level,
        firstMs,
      })),
    )
    .sort((a, b) => a.pass - b.pass || a.tag - b.tag || a.antenna - b.antenna);
  log.heard = {
    length: entries.length,
    pass: Int32Array.from(entries, ({ pass }) => pass),
    tag: Int32Array.from(entries, ({ tag }) => tag),
    antenna: Int16Array.from(entries, ({ antenna }) => antenna),
    antennas,
    reads: Float64Array.from(entries, () => 1),
    rssiDbm: Float64Array.from(entries, ({ level }) => level),
    firstMs: Float64Array.from(entries, ({ firstMs }) => firstMs),
    minute: Int32Array.from(entries, ({ pass, firstMs }) => minuteOf(pass, firstMs)),
    minutes,
    idle: [],
    weakest: [],
    settings: [],
  };
  return { facility: facility(said), log, index: indexRows(log) };
}

export const twoRounds: Round[] = ["as-found", "as-left"].map((id) => ({
  id,
  title: id,
  date: null,
  changes: null,
  settings: {},
}));
