import { max, min, quantileSorted } from "simple-statistics";
import { codeUri } from "../../codes/code-uri.ts";
import { idleReadRate } from "../../measures/idle-read-rate.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import { type Heard, noRssi, type PassLog, Role } from "../../model/pass-log.ts";
import type { Spread } from "../../model/result/figures.ts";
import type { HeardSummary } from "../../model/result/heard.ts";
import { type ReadPointRound, select, type WalkedFacility } from "../../model/rows.ts";

/**
 * What the readers' own logs show of one round at one read point, over valid timed passes; null where none was walked.
 * Antennas, repetition and first reads are of tags that were presented; every other code that was read is a stray, and a
 * bystander where the load names it as not presented.
 */
export function summariseHeard(walked: WalkedFacility, place: ReadPointRound): HeardSummary | null {
  const { facility, log, index } = walked;
  const { heard } = log;
  const timed = new Set(
    index.passesAt(place).filter((pass) => {
      const { readsFrom, voidReason } = log.passes[pass]!;
      return readsFrom === "reader-log" && voidReason === null;
    }),
  );
  if (heard === null || timed.size === 0) return null;
  const rows = index.rowsAt(place).filter((row) => timed.has(log.rows.pass[row]!));
  const presented = tagsOf(Role.presented, log, rows);
  const placed = tagsOf(Role.notPresented, log, rows);
  const ofPresented = new Map<number, number[]>();
  const ofStrangers = new Map<number, number[]>();
  const ofBystanders = new Map<number, number[]>();
  for (const pass of timed) {
    const [from, to] = index.heardIn(pass);
    for (let entry = from; entry < to; entry += 1) {
      const key = tagInPass(log, pass, heard.tag[entry]!);
      if (presented.has(key)) keep(ofPresented, key, entry);
      else keep(placed.has(key) ? ofBystanders : ofStrangers, heard.tag[entry]!, entry);
    }
  }
  const tagsRead = [...ofPresented.values()];
  const idle = heard.idle.find((one) => one.readPoint === place.readPoint && one.round === place.round);
  const events = sumOf(idle?.heard.map(({ tags }) => tags) ?? []);
  return {
    window: facility.passWindow,
    tagsPresented: presented.size,
    tagsRead: tagsRead.length,
    readsPerTag: spread(tagsRead.map((entries) => sumOf(entries.map((entry) => heard.reads[entry]!)))),
    firstReadMs: spread(tagsRead.map((entries) => min(entries.map((entry) => heard.firstMs[entry]!)))),
    antennas: byAntenna(heard, tagsRead),
    strays: [
      ...strayCodes(log, heard, { entriesOfTag: ofStrangers, bystander: false }),
      ...strayCodes(log, heard, { entriesOfTag: ofBystanders, bystander: true }),
    ].sort(
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
            stays: {
              tags: idle.stays.tags,
              meanMinutes: events === 0 ? 0 : idle.stays.squares / events,
              longestMinutes: idle.stays.longestMinutes,
            },
            rate: idleReadRate.collect(select(walked, place), {}).estimate(facility),
          },
  };
}

/** The tags of one role, each in its pass. */
function tagsOf(wanted: number, log: PassLog, rows: Int32Array): Set<number> {
  const { pass, tag, role } = log.rows;
  const found = new Set<number>();
  for (const row of rows) if (role[row] === wanted) found.add(tagInPass(log, pass[row]!, tag[row]!));
  return found;
}

/** One number for a tag in a pass; a row that names no tag has -1 for it. */
function tagInPass({ tags }: PassLog, pass: number, tag: number): number {
  return pass * (tags.length + 1) + tag + 1;
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
export function spread(values: ArrayLike<number>): Spread | null {
  if (values.length === 0) return null;
  const sorted = new Float64Array(values).sort() as unknown as number[];
  return {
    n: sorted.length,
    min: sorted[0]!,
    q05: quantileSorted(sorted, 0.05),
    median: quantileSorted(sorted, 0.5),
    q95: quantileSorted(sorted, 0.95),
    max: sorted.at(-1)!,
  };
}

/** What each antenna read of the tags presented, and what would have been missed without it. */
function byAntenna(heard: Heard, tagsRead: number[][]): HeardSummary["antennas"] {
  const found = heard.antennas.map(() => ({ tagsRead: 0, onlyHere: 0, levels: [] as number[] }));
  for (const entries of tagsRead) {
    const antennas = new Set(entries.map((entry) => heard.antenna[entry]!));
    for (const number of antennas) {
      const own = found[number];
      if (own === undefined) continue;
      own.tagsRead += 1;
      if (antennas.size === 1) own.onlyHere += 1;
    }
    for (const entry of entries) {
      const level = heard.rssiDbm[entry]!;
      if (level !== noRssi) found[heard.antenna[entry]!]?.levels.push(level);
    }
  }
  return heard.antennas.flatMap((antenna, number) => {
    const { levels, ...counts } = found[number]!;
    return counts.tagsRead === 0 ? [] : [{ antenna, ...counts, strongestDbm: spread(levels) }];
  });
}

/** Codes read uninvited: how often, and how strongly. */
function strayCodes(
  log: PassLog,
  heard: Heard,
  { entriesOfTag, bystander }: { entriesOfTag: Map<number, number[]>; bystander: boolean },
): HeardSummary["strays"] {
  return [...entriesOfTag].map(([tag, entries]) => {
    const levels = entries.map((entry) => heard.rssiDbm[entry]!).filter((level) => level !== noRssi);
    return {
      tag: log.tags[tag]!,
      uri: codeUri(log.tags[tag]!),
      bystander,
      passes: new Set(entries.map((entry) => heard.pass[entry])).size,
      reads: sumOf(entries.map((entry) => heard.reads[entry]!)),
      strongestDbm: levels.length === 0 ? null : max(levels),
    };
  });
}
