import { measures } from "../../measures/index.ts";
import { byCodePoint } from "../../model/order.ts";
import { noRssi, Role } from "../../model/pass-log.ts";
import { quoted, suggest } from "../problems/card/wording.ts";
import {
  bystandersNotRecorded,
  columnNeeded,
  compareTagsAlike,
  compareTagsMissing,
  compareTagsTwice,
  manifestUnused,
  passEndsBeforeStart,
  passFarFromRound,
  planLoadDiffers,
  planStatesTwice,
  rssiBlank,
  straysHalfRecorded,
  tagInTwoSpellings,
  valueNotWalked,
} from "../problems/log-rules.ts";
import { agreementColumnMissing, passContradictsItself, tagTwice } from "../problems/pass-log.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { YamlReport } from "../problems/reports.ts";
import { referenceUnknown } from "../problems/yaml.ts";
import { cellOf, checkBands, checkConditions, checkNumbers } from "./condition-rules.ts";
import { checkGroups } from "./group-bounds.ts";
import { checkPauses } from "./pauses.ts";
import type { FacilityLogs } from "./read.ts";
import { isValid } from "./rows/passes.ts";
import { checkCodesAlike, checkLookalikes, checkMissedFilled } from "./suspect-texts.ts";

/** Where a rule reports what it finds, besides the files that it finds it in. */
interface Reports {
  yaml: YamlReport;
  problems: ProblemList;
}

/** Something that can be told only once all manifests and logs have been read. */
interface Rule {
  /** The problems that it reports. */
  codes: string[];
  /** Whether what it finds depends on what facility.yaml says. */
  asksFacility?: boolean;
  check(logs: FacilityLogs, reports: Reports): void;
}

export const rules: readonly Rule[] = [
  { codes: ["pass-ends-before-start"], check: checkTimes },
  { codes: ["pass-far-from-round"], check: checkDays },
  { codes: ["pause-within-persistence"], asksFacility: true, check: checkPauses },
  { codes: ["tag-twice"], check: checkTagsOnce },
  { codes: ["pass-contradicts-itself"], check: checkNothingPresented },
  { codes: ["tag-in-two-spellings"], check: checkSpellings },
  { codes: ["code-unlike-others"], check: checkCodesAlike },
  { codes: ["lookalike-characters"], check: checkLookalikes },
  { codes: ["missed-tags-never-filled"], check: checkMissedFilled },
  { codes: ["condition-not-a-number"], check: checkNumbers },
  { codes: ["value-outside-bands"], check: checkBands },
  { codes: ["condition-blank", "condition-column-missing"], check: checkConditions },
  { codes: ["agreement-column-missing"], check: checkNeededColumns },
  { codes: ["rssi-blank"], check: checkRssi },
  {
    codes: ["compare-tags-missing", "compare-tags-alike", "compare-tags-twice"],
    asksFacility: true,
    check: checkComparedTags,
  },
  { codes: ["manifest-unused"], asksFacility: true, check: checkManifestsUsed },
  { codes: ["bystanders-not-recorded"], check: checkBystanders },
  { codes: ["strays-half-recorded"], check: checkStrays },
  { codes: ["groups-too-many"], check: (logs, { yaml }) => checkGroups(logs, yaml) },
  { codes: ["value-not-walked"], check: checkSelectedValues },
  { codes: ["reference-unknown", "plan-states-twice", "plan-load-differs"], check: checkPlannedLoad },
];

function checkTimes({ passes }: FacilityLogs): void {
  for (const { startedAt, endedAt, file, id } of passes) {
    if (startedAt === null || endedAt === null || endedAt.time.epochUs >= startedAt.time.epochUs) continue;
    const place = {
      record: endedAt.at,
      field: file.header.fields.get("ended_at")!,
      value: endedAt.time.local,
    };
    file.report.cell(place, passEndsBeforeStart.with({ startedAt: startedAt.time.local, pass: id }));
  }
}

/** A round may run over midnight, or be dated by its first or last day; a week away is another round or another year. */
const mostDaysApart = 2;

function checkDays({ passes, facility }: FacilityLogs): void {
  for (const { startedAt, round, file, id } of passes) {
    const { id: roundId, date } = facility.rounds[round] ?? { id: "", date: null };
    if (startedAt === null || date === null) continue;
    const day = startedAt.time.local.slice(0, 10);
    if (day === date || daysBetween(day, date) <= mostDaysApart) continue;
    const place = { record: startedAt.at, field: file.header.fields.get("started_at")! };
    file.report.at(place, passFarFromRound.with({ pass: id, day, round: roundId, date }));
  }
}

function daysBetween(a: string, b: string): number {
  return Math.abs(Date.parse(`${a}T00:00:00Z`) - Date.parse(`${b}T00:00:00Z`)) / 86_400_000;
}

/** Manifests and lists of codes have been checked as they were read; here are the tags with a row each. */
function checkTagsOnce({ passes, table }: FacilityLogs): void {
  const { order, starts } = table.byPass(
    passes.map(({ number }) => number),
    passes.length,
  );
  const { tag, at } = table;
  const lastPass = new Int32Array(table.tags.texts.length).fill(-1);
  for (const { number, id, file } of passes) {
    if (file.form.isRowAPass) continue;
    for (let i = starts[number]!; i < starts[number + 1]!; i += 1) {
      const row = order[i]!;
      const code = tag[row]!;
      if (code < 0) continue;
      if (lastPass[code] === number) {
        const place = { record: at[row]!, field: file.header.fields.get("tag")! };
        const value = table.tags.texts[code]!;
        file.report.cell({ ...place, value }, tagTwice.inPass({ pass: id }));
      }
      lastPass[code] = number;
    }
  }
}

/** A row without a tag says that the pass presented nothing. */
function checkNothingPresented({ passes, table }: FacilityLogs): void {
  const blankRow = new Int32Array(passes.length).fill(-1);
  const presents = new Uint8Array(passes.length);
  const { pass, role, at, length } = table;
  for (let row = 0; row < length; row += 1) {
    if (role[row] === Role.nothing) blankRow[pass[row]!] = row;
    else if (role[row] === Role.presented) presents[pass[row]!] = 1;
  }
  for (const { number, id, file } of passes) {
    if (blankRow[number] === -1 || presents[number] === 0) continue;
    const place = { record: at[blankRow[number]!]!, field: file.header.fields.get("tag")!, value: "" };
    file.report.cell(place, passContradictsItself.inTags({ pass: id }));
  }
}

/** The same code in capitals and small letters would count as two tags. */
function checkSpellings({ table }: FacilityLogs, { problems }: Reports): void {
  const spellings = new Map<string, string>();
  const pairs: [string, string][] = [];
  for (const tag of table.tags.texts) {
    const small = tag.toLowerCase();
    const other = spellings.get(small);
    if (other === undefined) spellings.set(small, tag);
    else pairs.push([other, tag].sort(byCodePoint) as [string, string]);
  }
  for (const [one, other] of pairs.sort((a, b) => byCodePoint(a[0], b[0]) || byCodePoint(a[1], b[1]))) {
    problems.report({ file: "passes" }, tagInTwoSpellings.with({ one, other }));
  }
}

/** The problems of measures that have a code of their own for a missing column. */
const ownWords: Record<string, typeof columnNeeded.with> = {
  [agreementColumnMissing.code]: agreementColumnMissing.inLog,
};

/** The logs have the columns that the measure of a criterion needs. */
function checkNeededColumns({ facility, passes }: FacilityLogs): void {
  const reported = new Set<string>();
  for (const criterion of facility.criteria) {
    const needed = measures.get(criterion.measure).log.columns?.(criterion) ?? [];
    if (needed.length === 0) continue;
    for (const pass of passes) {
      const { file, manifest } = pass;
      const readPoint = facility.readPoints[pass.readPoint]?.id ?? "";
      if (!criterion.readPoints.includes(readPoint) || !isValid(pass) || pass.isLoadUnknown) continue;
      const key = `${criterion.id}\u0000${file.report.file}\u0000${manifest?.name}`;
      if (reported.has(key)) continue;
      reported.add(key);
      const isThere = (column: string) =>
        file.header.fields.has(column) || manifest?.header?.fields.has(column) === true;
      const missing = needed.find(({ column }) => !isThere(column));
      if (missing === undefined) continue;
      const { severity, code = "", column, purpose, advice } = missing;
      const found = `no column ${quoted(column)}`;
      const expected = `${column}, which criterion ${quoted(criterion.id)} ${purpose}`;
      const said = ownWords[code] ?? columnNeeded.with;
      const place = { record: file.header.at, field: null };
      file.report.at(place, said({ severity, found, expected, advice }));
    }
  }
}

/** Where a criterion ranks tags by their strength, a tag that was read must have one: a gap is neither strong nor weak. */
function checkRssi({ facility, table, passes }: FacilityLogs): void {
  const ranking = facility.readPoints.map(({ id }) =>
    facility.criteria.find(
      ({ measure, readPoints }) => measures.get(measure).log.rssi === true && readPoints.includes(id),
    ),
  );
  if (ranking.every((criterion) => criterion === undefined)) return;
  const { rssiDbm, tagsRead, role, pass: passOfRow, at, length } = table;
  for (let row = 0; row < length; row += 1) {
    if (rssiDbm[row] !== noRssi || tagsRead[row] === 0 || role[row] !== Role.presented) continue;
    const pass = passes[passOfRow[row]!]!;
    const criterion = ranking[pass.readPoint];
    const { report, header } = pass.file;
    const field = header.fields.get("rssi_dbm");
    if (criterion === undefined || !isValid(pass) || !pass.rssiRecorded || field === undefined) continue;
    report.cell({ record: at[row]!, field, value: "" }, rssiBlank.with({ criterion: criterion.id }));
  }
}

/** The models of tags that are compared: there are two, and each tag is of one. */
function checkComparedTags(logs: FacilityLogs, { yaml }: Reports): void {
  const { facility, manifests, files, table } = logs;
  const name = facility.compareTags;
  if (name === null || table.length === 0) return;
  const hasColumn = [...manifests.values(), ...files].some(({ header }) => header?.fields.has(name) === true);
  const column = table.column(name);
  if (!hasColumn || column === null) {
    yaml.value(["compare_tags"], compareTagsMissing.with({ column: name }));
    return;
  }
  const texts = column.texts.texts;
  const modelOf = new Map<number, number>();
  const told = new Set<number>();
  const models = new Set<number>();
  for (let row = 0; row < table.length; row += 1) {
    const [tag, model] = [table.tag[row]!, column.ids[row]!];
    if (tag < 0 || model < 0 || table.role[row] !== Role.presented) continue;
    models.add(model);
    const other = modelOf.get(tag) ?? model;
    modelOf.set(tag, other);
    if (other === model || told.has(tag)) continue;
    told.add(tag);
    const facts = { tag: table.tags.texts[tag]!, model: texts[model]!, other: texts[other]! };
    const cell = cellOf(row, column, logs);
    cell?.report.at(cell, compareTagsTwice.with(facts));
  }
  if (models.size < 2)
    yaml.value(
      ["compare_tags"],
      compareTagsAlike.with({ column: name, models: [...models].map((model) => texts[model]!) }),
    );
}

function checkManifestsUsed({ manifests, passes, facility }: FacilityLogs): void {
  const used = new Set(passes.map(({ manifest }) => manifest));
  for (const manifest of manifests.values()) {
    const { name, broken, sheet } = manifest;
    // The plan's is the load of a walk that is still to come.
    if (used.has(manifest) || name === facility.plan?.manifest || broken) continue;
    // A pass whose manifest is misspelt may mean this one.
    if (passes.some((pass) => pass.isLoadUnknown)) continue;
    sheet.report.whole(manifestUnused.with({ name }));
  }
}

function checkBystanders({ passes, facility }: FacilityLogs): void {
  for (const pass of passes) {
    const { manifest, file } = pass;
    if (manifest === null || pass.straysRecorded || !isValid(pass)) continue;
    if (manifest.presented.length === manifest.items.size) continue;
    const readPoint = facility.readPoints[pass.readPoint]?.id;
    if (readPoint === undefined) continue;
    file.report.at(
      { record: pass.at, field: file.header.fields.get("stray_tags") ?? null },
      bystandersNotRecorded.with({ pass: pass.id, readPoint, manifest: manifest.name }),
    );
  }
}

/** A log that records strays for some of its passes only leaves the others out of every figure on strays. */
function checkStrays({ passes, files }: FacilityLogs): void {
  for (const file of files) {
    const field = file.header.fields.get("stray_tags");
    if (field === undefined) continue;
    const own = passes.filter((pass) => pass.file === file && isValid(pass));
    const recorded = own.filter((pass) => pass.straysRecorded).length;
    if (recorded === 0 || recorded === own.length) continue;
    const place = { record: file.header.at, field };
    file.report.at(place, straysHalfRecorded.with({ recorded, passes: own.length }));
  }
}

/** A criterion selects a value that nobody walked, and one that was walked looks much like it. */
function checkSelectedValues({ facility, table, declared }: FacilityLogs, { yaml }: Reports): void {
  for (const [i, criterion] of facility.criteria.entries()) {
    for (const clause of criterion.where) {
      const column = table.column(clause.column);
      const isOpen = (declared.values.get(clause.column)?.names ?? null) === null;
      if (clause.kind !== "values" || column === null || !isOpen) continue;
      const walked = column.texts.texts;
      for (const [at, value] of clause.values.entries()) {
        const near = column.texts.find(value) < 0 ? suggest(value, walked) : null;
        // Values told apart by a number are not slips of the pen, and one that is listed anyway is not meant.
        if (near === null || withoutDigits(near) === withoutDigits(value) || clause.values.includes(near))
          continue;
        const path = ["criteria", i, "where", clause.column];
        const facts = { column: clause.column, value, criterion: criterion.id, walked: [...walked], near };
        yaml.value(yaml.places.sourceAt(path) === null ? [...path, at] : path, valueNotWalked.with(facts));
      }
    }
  }
}

function withoutDigits(text: string): string {
  return text.replace(/\d+/g, "");
}

/** The load that the plan names exists and presents as many tags as the plan says. */
function checkPlannedLoad({ facility, manifests }: FacilityLogs, { yaml }: Reports): void {
  const { plan } = facility;
  if (plan === null || plan.manifest === null) return;
  const manifest = manifests.get(plan.manifest);
  if (manifest === undefined) {
    const names = [...manifests.keys()].sort(byCodePoint);
    yaml.value(["plan", "manifest"], referenceUnknown.manifest({ name: plan.manifest, names }));
    return;
  }
  for (const { column } of plan.each) {
    if (manifest.header?.fields.has(column) !== true) continue;
    yaml.key(["plan", "each", column], planStatesTwice.with({ column, manifest: plan.manifest }));
  }
  const presented = manifest.presented.length;
  // What is wrong with the manifest itself has been reported at its own lines.
  if (manifest.broken || presented === plan.tagsPerPass) return;
  const facts = { manifest: plan.manifest, presented, planned: plan.tagsPerPass };
  yaml.value(["plan", "tags_per_pass"], planLoadDiffers.with(facts));
}
