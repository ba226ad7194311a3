import { basename, resolve } from "node:path";
import type { z } from "zod";
import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Facility } from "../../model/facility.ts";
import { facilityYamlMissing } from "../problems/folder.ts";
import { ProblemList } from "../problems/problem-list.ts";
import { type Path, YamlReport } from "../problems/reports.ts";
import {
  areaOffPlan,
  entryDuplicate,
  facilityBlank,
  reportMissing,
  retestNotAfterIssue,
} from "../problems/yaml.ts";
import { readYaml, type YamlTree } from "../yaml/document.ts";
import { parseShape, wellFormed } from "../yaml/parse-shape.ts";
import { type Entry, type OwnWords, valueAt } from "../yaml/shape.ts";
import { checkTimeZone, isTimeZone } from "../yaml/time-zone.ts";
import { type YamlFile, yamlFile } from "../yaml/yaml-file.ts";
import {
  checkConcessions,
  checkOpenPoints,
  concessionSchema,
  normaliseConcession,
  normaliseOpenPoint,
  openPointSchema,
} from "./agreements.ts";
import { checkConditions, conditionSchema, normaliseCondition } from "./conditions.ts";
import { checkCriteria, criterionSchema, normaliseCriterion, unusedKey } from "./criterion.ts";
import { facilityJsonSchema, facilitySchema, type RawFacility } from "./facility-schema.ts";
import type { Declared } from "./names.ts";
import { attachmentSchema, checkPictures, normaliseAttachment } from "./pictures.ts";
import { checkPlaceholders, checkSignatories } from "./placeholders.ts";
import { checkPlan, normalisePlan, planSchema } from "./plan.ts";
import { checkReadPoints, normaliseReadPoint, readPointSchema } from "./read-points.ts";
import { checkReaderLogs, normaliseReaderLog, readerLogSchema } from "./reader-logs.ts";
import {
  checkRecord,
  correctionSchema,
  normaliseCorrection,
  normaliseRevision,
  revisionSchema,
} from "./record.ts";
import { judgingRanges, normaliseJudged } from "./report.ts";
import { checkRounds, normaliseRound, roundSchema } from "./rounds.ts";

export const facilityFile = "facility.yaml";

/**
 * Reads the text of facility.yaml. Where the list of problems holds an error afterwards, the facility is a draft that
 * serves only to check the logs against it; null where not even that can be made.
 */
export function readFacilityYaml(
  id: string,
  source: string,
  problems: ProblemList,
): { facility: Facility; namesReaderLogs: boolean; report: YamlReport } | null {
  const tree = readYaml(source, facilityFile, problems);
  if (tree === null) return null;
  if (typeof tree.value !== "object" || tree.value === null || Array.isArray(tree.value)) {
    const place = { file: facilityFile, line: 1, column: 1 };
    problems.report(place, facilityBlank.with({ isNothing: tree.value === null }));
    return null;
  }
  const report = new YamlReport(tree, facilityFile, problems);
  const sections = rawSections(tree, report);
  checkSections(sections, tree.value, report);
  const facility = normaliseFacility(id, sections, tree.value);
  const namesReaderLogs = (valueAt(tree.value, ["reader_logs"]) ?? null) !== null;
  return facility === null ? null : { facility, namesReaderLogs, report };
}

/** A facility as its facility.yaml tells of it, before anything else in its folder is read. */
export interface OpenedFacility {
  id: string;
  folder: string;
  problems: ProblemList;
  /** Null, with the reason among the problems, where it cannot be read. */
  yaml: YamlFile | null;
  /** Null where nothing can be made of it. */
  described: ReturnType<typeof readFacilityYaml>;
}

/** @param id what the folder is called, unless it was put elsewhere under another name */
export async function openFacility(folder: string, id = basename(resolve(folder))): Promise<OpenedFacility> {
  const problems = new ProblemList(id);
  const yaml = await yamlFile({ folder, path: facilityFile }, facilityYamlMissing.inFolder(), problems);
  const described = yaml === null ? null : readFacilityYaml(id, yaml.text, problems);
  return { id, folder, problems, yaml, described };
}

/**
 * A stand-in for a facility.yaml that cannot be read, so that what is wrong with the logs by themselves shows in the same
 * run. Its rounds, read points and criteria are not known; columns that the text seems to declare are taken as declared.
 */
export function unreadFacility(id: string, source: string): NonNullable<ReturnType<typeof readFacilityYaml>> {
  const columns = [...source.matchAll(/\bcolumn:\s*["']?([^\s"',}#]+)/g)].map(([, column]) => column!);
  const zone = /^time_zone:\s*["']?([^\s"'#]+)/m.exec(source)?.[1] ?? "UTC";
  const text = JSON.stringify({
    name: id,
    time_zone: isTimeZone(zone) ? zone : "UTC",
    rounds: [{ id: "unread" }],
    read_points: [],
    conditions: [...new Set(columns)].map((column) => ({ column })),
  });
  const draft = readFacilityYaml(id, text, new ProblemList(id))!;
  return { ...draft, namesReaderLogs: /^reader_logs:/m.test(source) };
}

type Sections = ReturnType<typeof rawSections>;

/** The sections that are lists. */
type ListSection = {
  [Section in keyof RawFacility]-?: NonNullable<RawFacility[Section]> extends readonly object[]
    ? Section
    : never;
}[keyof RawFacility];
type EntryOf<Section extends ListSection> = NonNullable<RawFacility[Section]>[number];

/**
 * What facility.yaml says, as far as it is well formed: a slip in one entry does not hide what is wrong with the
 * others.
 */
function rawSections(tree: YamlTree, report: YamlReport) {
  const { value, whole } = parseShape(tree, facilitySchema(), {
    json: facilityJsonSchema,
    own: ownWords,
    report,
  });
  /** The entries of a section by a schema that is made, and asked, only where not everything is sound. */
  const list = <Section extends ListSection>(
    section: Section,
    schema: () => z.ZodType<EntryOf<Section>>,
  ): Entry<EntryOf<Section>>[] => {
    if (whole !== null) {
      const sound: readonly EntryOf<Section>[] = whole[section] ?? [];
      return sound.map((entry, i) => ({ value: entry, path: [section, i] }));
    }
    const found = valueAt(value, [section]);
    if (!Array.isArray(found)) return [];
    const made = schema();
    return found.flatMap((entry, i) => wellFormed(entry, [section, i], made));
  };
  // Ids of malformed entries count as well, so that nothing is called unknown for another's slip.
  const declared = (section: string, key: string, what: string) => {
    const found = valueAt(value, [section]);
    const names = Array.isArray(found) ? found.map((entry) => valueAt(entry, [key])) : [];
    return { names: new Set(names.filter((name) => typeof name === "string")), what, section };
  };
  return {
    /** Null where anything is malformed. */
    whole,
    rounds: list("rounds", () => roundSchema),
    readPoints: list("read_points", () => readPointSchema),
    conditions: list("conditions", () => conditionSchema),
    criteria: list("criteria", () => criterionSchema({ isLoose: true })),
    concessions: list("concessions", () => concessionSchema),
    openPoints: list("open_points", () => openPointSchema),
    readerLogs: list("reader_logs", () => readerLogSchema),
    revisions: list("revisions", () => revisionSchema),
    corrections: list("corrections", () => correctionSchema),
    attachments: list("attachments", () => attachmentSchema),
    plan: wellFormed(valueAt(value, ["plan"]), ["plan"], planSchema)[0] ?? null,
    declared: {
      rounds: declared("rounds", "id", "the id of a round"),
      readPoints: declared("read_points", "id", "the id of a read point"),
      columns: declared("conditions", "column", "a declared condition column"),
      criteria: declared("criteria", "id", "the id of a criterion"),
      openPoints: declared("open_points", "id", "the id of an open point"),
    },
  };
}

const ownWords: OwnWords = {
  ranges: judgingRanges,
  unknownKey: (key, path, entry) =>
    path[0] === "criteria" && path.length === 2 ? unusedKey(key, entry) : null,
  choice: (word) =>
    journeyMeasures.find(word) === null
      ? null
      : `${word} counts items on a journey over read points: ask it in a file of journeys/.`,
};

/** What the sections say about each other. */
function checkSections(sections: Sections, root: unknown, report: YamlReport): void {
  const { declared } = sections;
  const conditions = new Map(sections.conditions.map(({ value }) => [value.column, value]));
  const covered = (id: string) =>
    sections.criteria.find((entry) => entry.value.id === id)?.value.read_points ?? null;
  checkTop(sections, root, report);
  checkPlaceholders(root, report);
  checkSignatories(root, report);
  checkRounds(sections.rounds, declared, report);
  checkReadPoints(sections.readPoints, declared, report);
  checkConditions(sections.conditions, report);
  checkCriteria(sections.criteria, { ...declared, conditions }, report);
  checkConcessions(sections.concessions, { ...declared, covered }, report);
  checkOpenPoints(sections.openPoints, declared, report);
  checkReaderLogs(sections.readerLogs, { readPoints: declared.readPoints, root }, report);
  checkRecord(sections, root, report);
  checkPictures(sections.attachments, { ...declared, root }, report);
  if (sections.plan !== null) checkPlan(sections.plan, { ...declared, conditions }, report);
}

function checkTop({ declared }: Sections, root: unknown, report: YamlReport): void {
  const zone = valueAt(root, ["time_zone"]);
  if (typeof zone === "string") checkTimeZone(["time_zone"], zone, report);
  const signOff = valueAt(root, ["sign_off_round"]);
  if (typeof signOff === "string") report.reference(["sign_off_round"], signOff, declared.rounds);
  if ((valueAt(root, ["report"]) ?? null) === null) report.whole(reportMissing);
  checkSignOff(valueAt(root, ["sign_off"]), declared, report);
  checkRetest(root, report);
  const areas = valueAt(root, ["floor_plan", "areas"]);
  if (!Array.isArray(areas)) return;
  for (const [i, area] of areas.entries()) checkArea(area, ["floor_plan", "areas", i], report);
}

function checkSignOff(signOff: unknown, { readPoints }: Declared, report: YamlReport): void {
  if (!Array.isArray(signOff)) return;
  for (const [i, id] of signOff.entries()) {
    if (typeof id !== "string") continue;
    report.reference(["sign_off", i], id, readPoints);
    if (signOff.indexOf(id) < i) report.value(["sign_off", i], entryDuplicate.value());
  }
}

function checkRetest(root: unknown, report: YamlReport): void {
  const on = valueAt(root, ["retest", "on"]);
  const issued = valueAt(root, ["report", "issued"]);
  if (typeof on === "string" && typeof issued === "string" && on <= issued)
    report.value(["retest", "on"], retestNotAfterIssue.with({ issued }));
}

function checkArea(area: unknown, path: Path, report: YamlReport): void {
  for (const [from, size, edge] of [
    ["x", "width", "right"],
    ["y", "height", "lower"],
  ] as const) {
    const start = valueAt(area, [from]);
    const length = valueAt(area, [size]);
    if (typeof start === "number" && typeof length === "number" && start + length > 100)
      report.value([...path, size], areaOffPlan.with({ from, size, edge }));
  }
}

/** The facility with its defaults filled in; null where it has no round. */
function normaliseFacility(id: string, sections: Sections, root: unknown): Facility | null {
  const { declared } = sections;
  const rounds = sections.rounds.map(({ value }) => normaliseRound(value));
  // A malformed round, read point or condition is still one that the logs may name.
  for (const name of unlisted(declared.rounds.names, rounds, "id")) rounds.push(normaliseRound({ id: name }));
  if (rounds.length === 0) return null;
  const whole: Partial<RawFacility> = sections.whole ?? {};
  const signOffRound = whole.sign_off_round ?? rounds.at(-1)!.id;
  const readPoints = sections.readPoints.map(({ value }) => normaliseReadPoint(value, signOffRound));
  for (const name of unlisted(declared.readPoints.names, readPoints, "id"))
    readPoints.push(normaliseReadPoint({ id: name }, signOffRound));
  const conditions = sections.conditions.map(({ value }) => normaliseCondition(value));
  for (const column of unlisted(declared.columns.names, conditions, "column"))
    conditions.push(normaliseCondition({ column }));
  const everyReadPoint = readPoints.map((point) => point.id);
  const floor = whole.floor_plan ?? null;
  return {
    id,
    name: whole.name ?? id,
    address: whole.address ?? null,
    timeZone: timeZoneOf(root),
    ...normaliseJudged(whole),
    retest: whole.retest == null ? null : { on: whole.retest.on, why: whole.retest.why ?? null },
    signOff: signedPart(whole.sign_off ?? null, everyReadPoint),
    rounds,
    signOffRound,
    readPoints,
    conditions,
    criteria: sections.criteria.map(({ value }) => normaliseCriterion(value, everyReadPoint)),
    concessions: sections.concessions.map(({ value }) => normaliseConcession(value)),
    openPoints: sections.openPoints.map(({ value }) => normaliseOpenPoint(value)),
    floorPlan:
      floor === null
        ? null
        : {
            widthMetres: floor.width_m,
            // With an image, until its shape is known.
            depthMetres: floor.depth_m ?? floor.width_m,
            areas: floor.areas ?? [],
            ...(floor.image == null ? {} : { image: floor.image }),
          },
    readerLogs: sections.readerLogs.map(({ value }) => normaliseReaderLog(value)),
    passWindow: {
      beforeS: whole.pass_window?.before_s ?? 0,
      afterS: whole.pass_window?.after_s ?? 0,
    },
    dateOrder: whole.date_order ?? null,
    compareWithReader: whole.compare_with_reader ?? false,
    sheets: sheetsOf(whole.sheets ?? {}),
    compareTags: whole.compare_tags ?? null,
    plan: sections.plan === null ? null : normalisePlan(sections.plan.value, everyReadPoint),
    revisions: sections.revisions.map(({ value }) => normaliseRevision(value)),
    corrections: sections.corrections.map(({ value }) => normaliseCorrection(value)),
    attachments: sections.attachments.map(({ value }) => normaliseAttachment(value)),
  };
}

/** Null where the sheet is for all of them, named or not. */
function signedPart(named: string[] | null, everyReadPoint: string[]): string[] | null {
  if (named === null) return null;
  const signed = everyReadPoint.filter((id) => named.includes(id));
  return signed.length === everyReadPoint.length ? null : signed;
}

function sheetsOf(sheets: NonNullable<RawFacility["sheets"]>): Facility["sheets"] {
  return Object.fromEntries(Object.entries(sheets).map(([path, names]) => [path, [names].flat()]));
}

function unlisted<Key extends string>(
  names: ReadonlySet<string>,
  entries: readonly Record<Key, string>[],
  key: Key,
): string[] {
  const listed = new Set(entries.map((entry) => entry[key]));
  return [...names].filter((name) => !listed.has(name));
}

/** A zone that does not exist has been reported already: the logs are not blamed for it. */
function timeZoneOf(root: unknown): string | null {
  const zone = valueAt(root, ["time_zone"]) ?? null;
  if (zone === null) return null;
  return typeof zone === "string" && isTimeZone(zone) ? zone : "UTC";
}
