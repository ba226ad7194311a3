import { codeUri } from "../../codes/code-uri.ts";
import { valuesOf } from "../../model/conditions.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import { noRssi, type PassLog, Role } from "../../model/pass-log.ts";
import type { PassResult } from "../../model/result/pass.ts";
import type { MissedTag } from "../../model/result/round.ts";
import type { ReadPointRound, WalkedFacility } from "../../model/rows.ts";

/** Each pass as the report lists it, void ones included: what was presented and read, which tags were missed or stray. */
export function listPasses(walked: WalkedFacility, place: ReadPointRound): PassResult[] {
  const { log, index } = walked;
  const passes = index.passesAt(place);
  const contents = new Map(passes.map((pass) => [pass, emptyContents()]));
  const { pass, tag, role, presentations, tagsRead, readCounts, rssiDbm, antenna, antennas } = log.rows;
  for (const row of index.rowsAt(place)) {
    const content = contents.get(pass[row]!)!;
    content.rows.push(row);
    if (role[row] === Role.presented) {
      content.presented += presentations[row]!;
      content.read += tagsRead[row]!;
      content.reads += readCounts[row]!;
      if (tagsRead[row]! > 0) {
        content.strongestDbm = Math.max(content.strongestDbm, rssiDbm[row]!);
        if (antenna[row] !== -1) content.antennas.add(antennas[antenna[row]!]!);
      }
      if (tagsRead[row]! > readCounts[row]!) content.isCounted = false;
      if (tag[row] !== -1 && tagsRead[row] === 0) content.missed.push(log.tags[tag[row]!]!);
    } else if (role[row] !== Role.nothing) {
      if (role[row] === Role.notPresented) content.bystanders += 1;
      if (tagsRead[row]! > 0) content.strays.push(log.tags[tag[row]!]!);
    }
  }
  const conditionsOf = conditionReader(walked);
  return passes.map((number) => {
    const found = log.passes[number]!;
    const content = contents.get(number)!;
    return {
      id: found.id,
      form: found.form,
      readsFrom: found.readsFrom,
      startedAt: found.startedAt,
      endedAt: found.endedAt,
      startedAtLocal: found.startedAtLocal,
      endedAtLocal: found.endedAtLocal,
      voidReason: found.voidReason,
      walkedBy: found.walkedBy,
      notes: found.notes,
      conditions: conditionsOf(content.rows),
      extras: found.extras,
      tagsPresented: content.presented,
      tagsRead: content.read,
      reads: content.isCounted ? content.reads : null,
      strongestDbm: content.strongestDbm === noRssi ? null : content.strongestDbm,
      firstReadMs: firstReadMs(walked, number, content.rows),
      antennas: [...content.antennas].sort(byNaturalOrder),
      missedTags: found.namesTags ? content.missed.sort(byCodePoint) : null,
      strayTags: found.namesTags && found.straysRecorded ? content.strays.sort(byCodePoint) : null,
      strays: found.straysRecorded ? (found.tallyStrays ?? content.strays.length) : null,
      bystandersPresented: content.bystanders,
      manifest: found.manifest,
      file: found.file,
    };
  });
}

function emptyContents() {
  return {
    rows: [] as number[],
    presented: 0,
    read: 0,
    reads: 0,
    /** Whether the log says of each tag that was read how often it was. */
    isCounted: true,
    strongestDbm: noRssi,
    antennas: new Set<string>(),
    missed: [] as string[],
    strays: [] as string[],
    bystanders: 0,
  };
}

/**
 * When the first of the tags that a pass presented was read, in milliseconds after its window opened; null where no reader's
 * log has one.
 */
function firstReadMs(
  { log, index }: WalkedFacility,
  pass: number,
  ownRows: readonly number[],
): number | null {
  const { heard, rows } = log;
  const [from, to] = index.heardIn(pass);
  if (heard === null || from === to) return null;
  const presented = new Set(
    ownRows.filter((row) => rows.role[row] === Role.presented).map((row) => rows.tag[row]),
  );
  let first = Number.POSITIVE_INFINITY;
  for (let entry = from; entry < to; entry += 1)
    if (presented.has(heard.tag[entry])) first = Math.min(first, heard.firstMs[entry]!);
  return first === Number.POSITIVE_INFINITY ? null : first;
}

/** Reads, for the rows of one pass, the values its presented tags (or the pass as such) were walked under. */
function conditionReader({ facility, log }: WalkedFacility): (rows: number[]) => Record<string, string[]> {
  const columns = facility.conditions.flatMap((condition) => {
    const column = log.rows.columns.get(condition.column);
    if (column === undefined) return [];
    const { nameOf, order } = valuesOf(condition);
    return [{ name: condition.column, index: column.index, names: column.values.map(nameOf), order }];
  });
  const { role } = log.rows;
  return (rows) => {
    const made = rows.filter((row) => role[row] === Role.presented || role[row] === Role.nothing);
    const values: Record<string, string[]> = {};
    for (const { name, index, names, order } of columns) {
      const seen: string[] = [];
      let last = -1;
      for (const row of made) {
        const text = index[row]!;
        if (text === last) continue;
        last = text;
        const value = names[text] ?? null;
        if (value !== null && !seen.includes(value)) seen.push(value);
      }
      values[name] = seen.sort(order);
    }
    return values;
  };
}

/** Tags missed at least once, the most often missed first, with the passes that missed them. */
export function rankMissedTags(presented: Int32Array, log: PassLog): MissedTag[] {
  const { pass, tag, tagsRead } = log.rows;
  const counts = new Map<number, { presented: number; missedIn: number[] }>();
  for (const row of presented) {
    if (tag[row] === -1) continue;
    const count = counts.get(tag[row]!) ?? { presented: 0, missedIn: [] };
    count.presented += 1;
    if (tagsRead[row] === 0) count.missedIn.push(pass[row]!);
    counts.set(tag[row]!, count);
  }
  return [...counts]
    .filter(([, { missedIn }]) => missedIn.length > 0)
    .map(([number, count]) => ({
      tag: log.tags[number]!,
      uri: codeUri(log.tags[number]!),
      presented: count.presented,
      missed: count.missedIn.length,
      passes: count.missedIn.sort((a, b) => a - b).map((one) => log.passes[one]!.id),
    }))
    .sort(
      stableBy(
        (a, b) => b.missed - a.missed,
        (a, b) => a.presented - b.presented,
        (a, b) => byCodePoint(a.tag, b.tag),
      ),
    );
}
