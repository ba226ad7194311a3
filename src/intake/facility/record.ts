import { z } from "zod";
import {
  type ClockComparison,
  type Correction,
  markPattern,
  plainMark,
  type StatedRevision,
} from "../../model/record/record.ts";
import {
  clockComparisonDiffers,
  correctionAfterReport,
  revisionMarkInvalid,
  revisionMarkMissing,
  revisionMarkOwn,
  revisionsOutOfOrder,
} from "../problems/record.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import { pathOutside } from "../problems/yaml.ts";
import { date, type Entry, filled, optional, text, valueAt, words } from "../yaml/shape.ts";
import { checkUnique } from "./names.ts";

/* What facility.yaml says of earlier revisions, of corrections, and of who compared a reader's clock. */

export const revisionSchema = z.strictObject({
  revision: text("The revision, as on its sheet."),
  issued: date("Its date of issue, YYYY-MM-DD."),
  changes: words("What it changed, in words."),
  by: words("Who issued it."),
  mark: words(
    "Its evidence mark: the 32 digits on its sheet, or the whole SHA-256 of its result.json. The report's own revision has none yet.",
  ),
  result: optional(
    filled,
    "Where its result.json is kept in the facility's folder, for example revisions/A/result.json. The files it judged are then compared with those of now.",
  ),
});
type RawRevision = z.infer<typeof revisionSchema>;

export const correctionSchema = z.strictObject({
  file: text("The file that was corrected, for example passes/dock-1.csv."),
  what: text("What was changed in it."),
  why: text("Why, and how it is known."),
  by: text("Who changed it."),
  on: date("When, YYYY-MM-DD."),
});
type RawCorrection = z.infer<typeof correctionSchema>;

export const clockComparisonSchema = z.strictObject({
  by: text("Who compared the reader's clock with the pass sheet's."),
  on: date("When, YYYY-MM-DD."),
  how: text("How, for example: both displays photographed together, before and after the walk."),
  offset_s: optional(z.number(), "What was found: seconds to be added to the reader's clock."),
});
type RawComparison = z.infer<typeof clockComparisonSchema>;

export function checkRecord(
  { revisions, corrections }: { revisions: Entry<RawRevision>[]; corrections: Entry<RawCorrection>[] },
  root: unknown,
  report: YamlReport,
): void {
  checkUnique(revisions, "revision", report);
  checkOrder(revisions, root, report);
  for (const entry of revisions) checkMark(entry, root, report);
  const issued = valueAt(root, ["report", "issued"]);
  for (const { value, path } of corrections)
    if (typeof issued === "string" && value.on > issued)
      report.value([...path, "on"], correctionAfterReport.with({ issued }));
}

function checkOrder(revisions: Entry<RawRevision>[], root: unknown, report: YamlReport): void {
  const issued = valueAt(root, ["report", "issued"]);
  let latest = "";
  for (const { value, path } of revisions) {
    const place = [...path, "issued"];
    const isOwn = isOwnRevision(value, root);
    if (value.issued < latest) report.value(place, revisionsOutOfOrder.beforeEarlier({ latest }));
    else if (typeof issued !== "string") continue;
    else if (isOwn && value.issued !== issued)
      report.value(place, revisionsOutOfOrder.ownDiffers({ issued }));
    else if (value.issued > issued) report.value(place, revisionsOutOfOrder.afterReport({ issued }));
    latest = value.issued > latest ? value.issued : latest;
  }
}

function checkMark({ value, path }: Entry<RawRevision>, root: unknown, report: YamlReport): void {
  const { revision, mark, result } = value;
  if (isOwnRevision(value, root)) {
    for (const [key, stated] of Object.entries({ mark, result }))
      if (stated != null) report.value([...path, key], revisionMarkOwn);
    return;
  }
  if (mark == null) report.value(path, revisionMarkMissing.with({ revision }));
  else if (!markPattern.test(plainMark(mark))) report.value([...path, "mark"], revisionMarkInvalid);
  if (result != null && isOutside(result)) report.value([...path, "result"], pathOutside);
}

/** Whether the entry is of the revision that the report itself is. */
function isOwnRevision({ revision }: RawRevision, root: unknown): boolean {
  return valueAt(root, ["report", "revision"]) === revision;
}

/** Evidence lies in the facility's folder: a path that leaves it could not be archived with it. */
export function isOutside(path: string): boolean {
  return /^([a-z]:|[/\\])|(^|[/\\])\.\.([/\\]|$)|\\/i.test(path);
}

/** People compare clocks to about a second (common practice, no source). */
const comparedToS = 1;

/** A clock that was found elsewhere than the entry puts it moves reads out of their passes. */
export function checkClock(
  { offset, comparisons, path }: { offset: number; comparisons: readonly RawComparison[]; path: Path },
  root: unknown,
  report: YamlReport,
): void {
  const margins = ["before_s", "after_s"].map((key) => valueAt(root, ["pass_window", key]));
  const margin = Math.max(comparedToS, ...margins.filter((value) => typeof value === "number"));
  comparisons.forEach(({ offset_s: found }, i) => {
    if (found != null && Math.abs(found - offset) > margin)
      report.value([...path, i, "offset_s"], clockComparisonDiffers.with({ applied: offset }));
  });
}

export function normaliseRevision(raw: RawRevision): StatedRevision {
  return {
    revision: raw.revision,
    issued: raw.issued,
    changes: raw.changes ?? null,
    by: raw.by ?? null,
    mark: raw.mark == null ? null : plainMark(raw.mark),
    result: raw.result ?? null,
  };
}

export function normaliseCorrection({ file, what, why, by, on }: RawCorrection): Correction {
  return { file, what, why, by, on };
}

export function normaliseComparison({ by, on, how, offset_s }: RawComparison): ClockComparison {
  return { by, on, how, offsetS: offset_s ?? null };
}
