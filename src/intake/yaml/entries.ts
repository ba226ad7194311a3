import { z } from "zod";
import type { Concession, Condition, OpenPoint, ReadPoint, Round } from "../../model/facility.ts";
import { reservedColumns } from "../pass-log/forms/index.ts";
import { suggest } from "../problems/card/wording.ts";
import { type DeclaredNames, nameOf, type Path, type YamlReport } from "../problems/reports.ts";
import {
  bandsNotRising,
  columnReserved,
  concessionDuplicate,
  concessionEndsBeforeStart,
  concessionWithoutFinding,
  entryDuplicate,
  idDuplicate,
  nameUnusable,
  roundsOutOfOrder,
  timeZoneUnknown,
} from "../problems/yaml.ts";
import { checkRadio, normaliseRadio, radioSchema } from "./radio.ts";
import { day, type Entry, optional, percent, scalar, settingTexts, text, words } from "./shape.ts";

/* The lists of facility.yaml: rounds, read points, conditions, concessions, open points. */

/** What the sections of facility.yaml declare, for those that refer to it. */
export interface Declared {
  rounds: DeclaredNames;
  readPoints: DeclaredNames;
  columns: DeclaredNames;
  criteria: DeclaredNames;
}

// Rounds.

export const roundSchema = z.strictObject({
  id: text("Short name of the round, as the pass logs write it."),
  title: words("Name of the round on the pages; the id if left out."),
  date: day("The day the round was walked, YYYY-MM-DD."),
  changes: words("What was changed before this round, in words."),
  settings: optional(
    z.record(z.string(), z.record(z.string(), scalar).nullable()),
    "Settings of the readers in this round: by read point, any keys.",
  ),
  radio: optional(
    z.record(z.string(), radioSchema.nullable()),
    "The radio of the read points in this round, by read point: cable, antenna, region, zone. The power stands in settings, as transmit_power_dbm.",
  ),
});

export function checkRounds(
  rounds: Entry<z.infer<typeof roundSchema>>[],
  { readPoints }: Declared,
  report: YamlReport,
): void {
  checkUnique(rounds, "id", report);
  let latest: string | null = null;
  for (const { value, path } of rounds) {
    checkName([...path, "id"], value.id, report);
    for (const readPoint of Object.keys(value.settings ?? {}))
      report.keyReference([...path, "settings", readPoint], readPoint, readPoints);
    for (const [readPoint, radio] of Object.entries(value.radio ?? {})) {
      const place = [...path, "radio", readPoint];
      report.keyReference(place, readPoint, readPoints);
      if (radio !== null)
        checkRadio(
          radio,
          { round: value.id, settings: value.settings?.[readPoint] ?? {}, path: place },
          report,
        );
    }
    if (value.date == null) continue;
    if (latest !== null && value.date < latest)
      report.value([...path, "date"], roundsOutOfOrder.with({ round: value.id, date: value.date, latest }));
    else latest = value.date;
  }
}

export function normaliseRound(round: z.infer<typeof roundSchema>): Round {
  const settings = Object.entries(round.settings ?? {}).map(
    ([point, values]) => [point, settingTexts(values ?? {})] as const,
  );
  const radio = Object.entries(round.radio ?? {}).flatMap(([point, values]) =>
    values === null ? [] : [[point, normaliseRadio(values)] as const],
  );
  return {
    id: round.id,
    title: round.title ?? round.id,
    date: round.date ?? null,
    changes: round.changes ?? null,
    settings: Object.fromEntries(settings),
    ...(radio.length === 0 ? {} : { radio: Object.fromEntries(radio) }),
  };
}

// Read points.

export const readPointSchema = z.strictObject({
  id: text("Short name of the read point, as the pass logs write it."),
  name: words("Name of the read point on the pages; the id if left out."),
  kind: words("What kind of read point it is, for example dock door."),
  at: optional(
    z.strictObject({ x: percent("From the left edge."), y: percent("From the top edge.") }),
    "Where it stands on the floor plan, in percent of its width and depth.",
  ),
  equipment: optional(z.record(z.string(), scalar), "What is installed: reader, serial, firmware, any keys."),
  sign_off_round: words("The round this read point is judged on, if it is not the facility's."),
});

export function checkReadPoints(
  readPoints: Entry<z.infer<typeof readPointSchema>>[],
  { rounds }: Declared,
  report: YamlReport,
): void {
  checkUnique(readPoints, "id", report);
  for (const { value, path } of readPoints) {
    checkName([...path, "id"], value.id, report);
    if (value.sign_off_round != null)
      report.reference([...path, "sign_off_round"], value.sign_off_round, rounds);
  }
}

export function normaliseReadPoint(point: z.infer<typeof readPointSchema>, signOffRound: string): ReadPoint {
  return {
    id: point.id,
    name: point.name ?? point.id,
    kind: point.kind ?? null,
    at: point.at ?? null,
    equipment: settingTexts(point.equipment ?? {}),
    signOffRound: point.sign_off_round ?? signOffRound,
  };
}

// Conditions.

export const conditionSchema = z.strictObject({
  column: text("The column of the pass log or manifest."),
  label: words("Name of the condition on the pages; the column's name if left out."),
  unit: words("The unit of its numbers, for example m/s."),
  bands: optional(
    z.array(z.number()).min(2),
    "Rising edges that cut the numbers into bands; without them the column is read as text.",
  ),
});

export type RawCondition = z.infer<typeof conditionSchema>;

export function checkConditions(conditions: Entry<RawCondition>[], report: YamlReport): void {
  checkUnique(conditions, "column", report);
  for (const { value, path } of conditions) {
    checkColumnName([...path, "column"], value.column, report);
    const bands = value.bands ?? [];
    bands.forEach((edge, i) => {
      const above = bands[i - 1];
      if (above !== undefined && edge <= above)
        report.value([...path, "bands", i], bandsNotRising.with({ above }));
    });
  }
}

/** Bands that do not rise have been reported, and no value is held against them. */
export function normaliseCondition(condition: RawCondition): Condition {
  const bands = condition.bands ?? null;
  const isRising = bands?.every((edge, i) => i === 0 || edge > bands[i - 1]!) ?? false;
  return {
    column: condition.column,
    label: condition.label ?? condition.column,
    unit: condition.unit ?? null,
    bands: isRising ? bands : null,
  };
}

// Concessions.

export const concessionSchema = z.strictObject({
  criterion: text("The criterion's id."),
  read_point: text("The read point's id."),
  granted_by: text("Who granted it."),
  on: day("The day it was granted, YYYY-MM-DD."),
  until: day("The last day it holds, YYYY-MM-DD."),
  reason: words("Why."),
});

export type RawConcession = z.infer<typeof concessionSchema>;

/** @param covered the read points of a criterion; null where it covers all of them, or is not known */
export function checkConcessions(
  concessions: Entry<RawConcession>[],
  { criteria, readPoints }: Declared,
  covered: (criterion: string) => readonly string[] | null,
  report: YamlReport,
): void {
  const seen = new Map<string, number>();
  for (const { value, path } of concessions) {
    const { criterion, read_point: readPoint, on, until } = value;
    report.reference([...path, "criterion"], criterion, criteria);
    report.reference([...path, "read_point"], readPoint, readPoints);
    if (readPoints.names.has(readPoint) && covered(criterion)?.includes(readPoint) === false)
      report.value([...path, "read_point"], concessionWithoutFinding.with({ criterion }));
    const key = JSON.stringify([criterion, readPoint]);
    const firstLine = seen.get(key);
    if (firstLine === undefined) seen.set(key, report.places.valueAt(path).line);
    else report.value(path, concessionDuplicate.with({ criterion, readPoint, firstLine }));
    if (on != null && until != null && until < on)
      report.value([...path, "until"], concessionEndsBeforeStart.with({ on }));
  }
}

export function normaliseConcession(concession: RawConcession): Concession {
  return {
    criterion: concession.criterion,
    readPoint: concession.read_point,
    grantedBy: concession.granted_by,
    on: concession.on ?? null,
    until: concession.until ?? null,
    reason: concession.reason ?? null,
  };
}

// Open points.

export const openPointSchema = z.strictObject({
  id: text("Short name of the open point."),
  read_point: words("The read point it concerns."),
  text: text("What is still to be put right."),
  owner: words("Who is to do it."),
  due: day("By when, YYYY-MM-DD."),
  closed: day("The day it was put right, YYYY-MM-DD; blank while it is open."),
});

export function checkOpenPoints(
  openPoints: Entry<z.infer<typeof openPointSchema>>[],
  { readPoints }: Declared,
  report: YamlReport,
): void {
  checkUnique(openPoints, "id", report);
  for (const { value, path } of openPoints) {
    if (value.read_point != null) report.reference([...path, "read_point"], value.read_point, readPoints);
  }
}

export function normaliseOpenPoint(point: z.infer<typeof openPointSchema>): OpenPoint {
  return {
    id: point.id,
    readPoint: point.read_point ?? null,
    text: point.text,
    owner: point.owner ?? null,
    due: point.due ?? null,
    closed: point.closed ?? null,
  };
}

// What the sections share.

export function checkTimeZone(path: Path, zone: string, report: YamlReport): void {
  if (!isTimeZone(zone)) report.value(path, timeZoneUnknown.with({ near: suggest(zone, timeZoneNames()) }));
}

/** Whether the name is an IANA time zone this machine knows. */
export function isTimeZone(name: string): boolean {
  // Fixed offsets are zones to some engines and not to others.
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en-GB", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

function timeZoneNames(): string[] {
  return [...Intl.supportedValuesOf("timeZone"), "UTC"];
}

/** Reports entries that share an id, at the second and later ones. */
export function checkUnique<Key extends string>(
  entries: Entry<Record<Key, string>>[],
  key: Key,
  report: YamlReport,
): void {
  const firstLines = new Map<string, number>();
  for (const { value, path } of entries) {
    const place = [...path, key];
    const firstLine = firstLines.get(value[key]);
    if (firstLine === undefined) firstLines.set(value[key], report.places.valueAt(place).line);
    else report.value(place, idDuplicate.with({ key, firstLine }));
  }
}

/** Checks each name of a list, once. */
export function checkNames(
  names: readonly string[],
  path: Path,
  report: YamlReport,
  check: (entry: Path, name: string) => void,
): void {
  names.forEach((name, i) => {
    if (names.indexOf(name) < i) report.value([...path, i], entryDuplicate.entry());
    else check([...path, i], name);
  });
}

export function checkColumnName(path: Path, column: string, report: YamlReport): void {
  checkName(path, column, report);
  if (reservedColumns.has(column)) report.value(path, columnReserved.with({ column }));
}

/** The logs are read without the blanks around a value, so an id must not need them. */
function checkName(path: Path, name: string, report: YamlReport): void {
  if (name === name.trim() && !/[\r\n]/.test(name) && name !== "__proto__") return;
  report.value(path, nameUnusable.with({ name, key: nameOf(path) }));
}
