import { quantileSorted } from "simple-statistics";
import { codeUri } from "../../codes/code-uri.ts";
import { idleReadRate } from "../../measures/idle-read-rate.ts";
import type { Facility } from "../../model/facility.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import { type Heard, noRssi, type PassLog, Role } from "../../model/pass-log.ts";
import type { HeardSummary } from "../../model/result.ts";
import { matchAll } from "../../model/rows.ts";

/**
 * What the readers' own logs show of one round at one read point, over valid timed passes; null where none was walked.
 * Antennas, repetition and first moments are of tags that were presented; strays are everything else that was heard, those
 * that the load names as not presented marked as bystanders.
 */
export function summariseHeard(
  log: PassLog,
  passes: number[],
  rows: Int32Array,
  place: { readPoint: string; round: string },
  facility: Facility,
): HeardSummary | null {
  const { heard } = log;
  const timed = new Set(
    passes.filter((pass) => log.passes[pass]!.form === "timed" && log.passes[pass]!.voidReason === null),
  );
  if (heard === null || timed.size === 0) return null;
  const entries = entriesOf(heard, timed);
  const presented = tagsOf(Role.presented, log, rows, timed);
  const placed = tagsOf(Role.notPresented, log, rows, timed);
  const loads = new Map<string, number[]>();
  const strangers = new Map<number, number[]>();
  const bystanders = new Map<number, number[]>();
  for (const entry of entries) {
    const key = `${heard.pass[entry]} ${heard.tag[entry]}`;
    if (presented.has(key)) keep(loads, key, entry);
    else keep(placed.has(key) ? bystanders : strangers, heard.tag[entry]!, entry);
  }
  const idle = heard.idle.find((one) => one.readPoint === place.readPoint && one.round === place.round);
  return {
    window: facility.passWindow,
    tagsPresented: presented.size,
    tagsRead: loads.size,
    readsPerTag: spread([...loads.values()].map((own) => sumOf(own.map((entry) => heard.reads[entry]!)))),
    firstReadMs: spread(
      [...loads.values()].map((own) => Math.min(...own.map((entry) => heard.firstMs[entry]!))),
    ),
    antennas: byAntenna(heard, [...loads.values()]),
    strays: [...strayRows(log, heard, strangers, false), ...strayRows(log, heard, bystanders, true)].sort(
      stableBy(
        (a, b) => b.passes - a.passes,
        (a, b) => b.reads - a.reads,
        (a, b) => byCodePoint(a.tag, b.tag),
        (a, b) => Number(a.bystander) - Number(b.bystander),
      ),
    ),
    idle:
      idle === undefined
        ? null
        : {
            minutes: idle.minutes,
            heard: idle.heard,
            rate: idleReadRate
              .collect({ log, ...place, rows, match: matchAll, withVoids: false }, {})
              .estimate(facility),
          },
  };
}

function entriesOf(heard: Heard, passes: Set<number>): number[] {
  const entries: number[] = [];
  for (let i = 0; i < heard.length; i += 1) if (passes.has(heard.pass[i]!)) entries.push(i);
  return entries;
}

function tagsOf(wanted: number, log: PassLog, rows: Int32Array, passes: Set<number>): Set<string> {
  const { pass, tag, role } = log.rows;
  const keys = new Set<string>();
  for (const row of rows) {
    if (role[row] === wanted && passes.has(pass[row]!)) keys.add(`${pass[row]} ${tag[row]}`);
  }
  return keys;
}

function keep<K>(groups: Map<K, number[]>, key: K, entry: number): void {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [entry]);
  else group.push(entry);
}

function sumOf(values: number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

/** Five figures of some values (quantiles of R's type 7); null where there are none. */
function spread(values: number[]): HeardSummary["readsPerTag"] {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  return {
    n: sorted.length,
    min: sorted[0]!,
    q05: quantileSorted(sorted, 0.05),
    median: quantileSorted(sorted, 0.5),
    q95: quantileSorted(sorted, 0.95),
    max: sorted.at(-1)!,
  };
}

/** What each antenna heard of the tags presented, and what would have been missed without it. */
function byAntenna(heard: Heard, loads: number[][]): HeardSummary["antennas"] {
  return heard.antennas.flatMap((antenna, number) => {
    const own = loads.filter((entries) => entries.some((entry) => heard.antenna[entry] === number));
    if (own.length === 0) return [];
    const levels = own
      .flatMap((entries) => entries.filter((entry) => heard.antenna[entry] === number))
      .map((entry) => heard.rssiDbm[entry]!)
      .filter((level) => level !== noRssi);
    return [
      {
        antenna,
        tagsRead: own.length,
        onlyHere: own.filter((entries) => entries.every((entry) => heard.antenna[entry] === number)).length,
        strongestDbm: spread(levels),
      },
    ];
  });
}

/** Codes heard uninvited: how often, and how strongly. */
function strayRows(
  log: PassLog,
  heard: Heard,
  entriesOfTag: Map<number, number[]>,
  bystander: boolean,
): HeardSummary["strays"] {
  return [...entriesOfTag].map(([tag, entries]) => {
    const levels = entries.map((entry) => heard.rssiDbm[entry]!).filter((level) => level !== noRssi);
    return {
      tag: log.tags[tag]!,
      uri: codeUri(log.tags[tag]!),
      bystander,
      passes: new Set(entries.map((entry) => heard.pass[entry])).size,
      reads: sumOf(entries.map((entry) => heard.reads[entry]!)),
      strongestDbm: levels.length === 0 ? null : Math.max(...levels),
    };
  });
}
