import { max, min } from "simple-statistics";
import { instantText } from "../../model/instants.ts";
import type { JourneyInput } from "../../model/journey/journey.ts";
import { runsFile, sightingsFile } from "../../model/journey/journey-files.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { journeysOverlap, runUnseen, sightingsMissing, sightingsOfNoRun } from "../problems/journey.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { PlacedRun, Runs } from "./runs.ts";

/* What is remarked on once runs and sightings are read. */

/** A journey that is remarked on, and where its remarks go. */
interface Remarked {
  id: string;
  runs: Runs | null;
  inputs: readonly InputFile[];
  problems: ProblemList;
}

/** Remarks on items that are on another journey at the same time. */
export function remarkOnOthers({ runs, problems, id }: Remarked, others: readonly Remarked[]): void {
  if (runs === null) return;
  for (const other of others) {
    if (other.id === id || other.runs === null) continue;
    const theirs = new Map<string, PlacedRun[]>();
    for (const row of other.runs.rows) {
      if (row.voidReason !== null) continue;
      const code = other.runs.codes[row.tag]!;
      const own = theirs.get(code);
      if (own === undefined) theirs.set(code, [row]);
      else own.push(row);
    }
    const met = runs.rows.flatMap((row) => {
      if (row.voidReason !== null) return [];
      const at = theirs
        .get(runs.codes[row.tag]!)
        ?.find((one) => one.fromUs <= row.toUs && one.toUs >= row.fromUs);
      return at === undefined ? [] : [{ row, run: at.run }];
    });
    const first = met[0];
    if (first === undefined) continue;
    const facts = { tag: runs.tags[first.row.tag]!, other: other.id, run: first.run, items: met.length };
    const place = {
      file: runsFile(id),
      record: first.row.at,
      field: first.row.tagField,
    };
    problems.report(place, journeysOverlap.with(facts));
  }
}

/** Remarks on sightings that belong to no run. */
export function remarkOnOtherSightings(
  counts: JourneyInput["counts"],
  { id, problems, inputs }: Remarked,
): void {
  if (counts.otherTags + counts.outsideRuns === 0) return;
  const table = sightingsFile(id);
  const file = inputs.some(({ path }) => path === table) ? table : runsFile(id);
  problems.report({ file }, sightingsOfNoRun.with(counts));
}

/** The valid rows of the runs that nothing was seen of. */
export function unseenRuns(
  rows: readonly PlacedRun[],
  sightings: JourneyInput["sightings"],
): (readonly PlacedRun[])[] {
  const runs = new Map<string, { own: PlacedRun[]; isSeen: boolean }>();
  for (const row of rows) {
    if (row.voidReason !== null) continue;
    const key = `${row.round}\n${row.run}`;
    const run = runs.get(key) ?? { own: [], isSeen: false };
    runs.set(key, run);
    run.own.push(row);
    run.isSeen ||= wasSeen(sightings, row);
  }
  return [...runs.values()].flatMap(({ own, isSeen }) => (isSeen ? [] : [own]));
}

/** Remarks on them, or once where nothing at all was seen. @param times when each tag was seen, at whatever time; null where none was */
export function remarkOnUnseen(
  unseen: readonly (readonly PlacedRun[])[],
  times: ReadonlyMap<number, { fromUs: number; toUs: number }> | null,
  { id, problems }: Remarked,
): void {
  const file = runsFile(id);
  if (times === null) {
    if (unseen.length > 0) problems.report({ file }, sightingsMissing);
    return;
  }
  for (const rows of unseen) {
    const [first] = rows;
    const seen = rows.flatMap(({ tag }) => times.get(tag) ?? []);
    const text = runUnseen.with({
      run: first!.run,
      items: rows.length,
      seen:
        seen.length === 0
          ? null
          : {
              from: instantText(min(seen.map(({ fromUs }) => fromUs))),
              to: instantText(max(seen.map(({ toUs }) => toUs))),
            },
    });
    problems.report({ file, record: first!.at, field: null }, text);
  }
}

/** Whether an item was seen while its run was under way: sightings come by tag and time. */
function wasSeen(
  { length, tag, timeUs }: JourneyInput["sightings"],
  row: Pick<PlacedRun, "tag" | "fromUs" | "toUs">,
): boolean {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (tag[middle]! < row.tag || (tag[middle] === row.tag && timeUs[middle]! < row.fromUs)) low = middle + 1;
    else high = middle;
  }
  return low < length && tag[low] === row.tag && timeUs[low]! <= row.toUs;
}
