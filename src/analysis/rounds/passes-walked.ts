import { valuesOf } from "../../model/conditions.ts";
import type { Facility } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import { type PassLog, Role } from "../../model/pass-log.ts";
import type { PassResult } from "../../model/result.ts";

/** Each pass as the report lists it, void ones included: what was presented and read, which tags were missed or stray. */
export function listPasses(
  facility: Facility,
  passes: number[],
  rows: Int32Array,
  log: PassLog,
): PassResult[] {
  const contents = new Map(passes.map((pass) => [pass, emptyContents()]));
  const { pass, tag, role, presentations, reads } = log.rows;
  for (const row of rows) {
    const content = contents.get(pass[row]!)!;
    content.rows.push(row);
    if (role[row] === Role.presented) {
      content.presented += presentations[row]!;
      content.read += reads[row]!;
      if (tag[row] !== -1 && reads[row] === 0) content.missed.push(log.tags[tag[row]!]!);
    } else if (role[row] !== Role.nothing) {
      if (role[row] === Role.notPresented) content.bystanders += 1;
      if (reads[row]! > 0) content.strays.push(log.tags[tag[row]!]!);
    }
  }
  const conditionsOf = conditionReader(facility, log);
  return passes.map((number) => {
    const found = log.passes[number]!;
    const content = contents.get(number)!;
    const isTally = found.form === "tally";
    return {
      id: found.id,
      form: found.form,
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
      missedTags: isTally ? null : content.missed.sort(byCodePoint),
      strayTags: isTally || !found.straysRecorded ? null : content.strays.sort(byCodePoint),
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
    missed: [] as string[],
    strays: [] as string[],
    bystanders: 0,
  };
}

/** Reads, for the rows of one pass, the values its presented tags (or the pass as such) were walked under. */
function conditionReader(facility: Facility, log: PassLog): (rows: number[]) => Record<string, string[]> {
  const columns = facility.conditions.flatMap((condition) => {
    const column = log.rows.columns.get(condition.column);
    if (column === undefined) return [];
    const values = valuesOf(condition);
    const nameOf = column.values.map((text) => values.nameOf(text));
    return [{ name: condition.column, index: column.index, nameOf, order: values.order }];
  });
  const { role } = log.rows;
  return (rows) => {
    const walked = rows.filter((row) => role[row] === Role.presented || role[row] === Role.nothing);
    const entries = columns.map(({ name, index, nameOf, order }) => {
      const seen = new Set(walked.map((row) => nameOf[index[row]!] ?? null));
      return [name, [...seen].filter((one) => one !== null).sort(order)] as const;
    });
    return Object.fromEntries(entries);
  };
}
