import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import { appearance, firstLookalike, lookalikeIn } from "../csv/lookalikes.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import { codeUnlikeOthers, lookalikeCharacters, missedTagsNeverFilled } from "../problems/log-rules.ts";
import type { CsvReport } from "../problems/reports.ts";
import type { FacilityLogs } from "./read.ts";
import type { LogPass } from "./rows/passes.ts";

/* Rules on texts that can be read and yet are hardly what was meant. */

/** A log whose missed tags are blank in every pass: nothing was missed, or nobody filled the column in. */
export function checkMissedFilled({ passes, files }: FacilityLogs): void {
  for (const file of files) {
    const field = file.header.fields.get("missed_tags");
    const own = passes.filter(
      (pass) => pass.file === file && pass.voidReasons === null && (pass.manifest?.presented.length ?? 0) > 0,
    );
    if (field === undefined || own.length === 0 || !own.every((pass) => pass.isMissedBlank)) continue;
    const place = { record: file.header.at, field };
    file.report.at(place, missedTagsNeverFilled.with({ passes: own.length }));
  }
}

const epcShape = /^(?:[0-9A-Fa-f]{2}){8,}$/;
const fewestCodes = 10;
const greatestShareOfOthers = 0.1;

/** Among many hexadecimal codes, something else is a label or a code that was damaged. */
export function checkCodesAlike(logs: FacilityLogs): void {
  const { texts } = logs.table.tags;
  const others = texts.flatMap((text, tag) => (epcShape.test(text) ? [] : [tag]));
  const codes = texts.length - others.length;
  if (codes < fewestCodes || others.length > greatestShareOfOthers * texts.length) return;
  // What a spreadsheet made a number of is an error already.
  const odd = new Set(others.filter((tag) => !isSpreadsheetNumber(texts[tag]!)));
  for (const [tag, cell] of cellsOfTags(odd, logs)) {
    const text = texts[tag]!;
    const { report, record, field, isCode } = cell;
    const fault = isCode ? codeUnlikeOthers.with({ codes }) : codeUnlikeOthers.heard({ text, codes });
    report.cell({ record, field, value: text }, fault);
  }
}

/** Texts that look the same and are not would count as two; one that mixes alphabets was hardly typed on purpose. */
export function checkLookalikes(logs: FacilityLogs): void {
  checkTags(logs);
  checkPassIds(logs);
  for (const column of logs.table.columns) checkValues(column.name, logs);
}

function checkTags(logs: FacilityLogs): void {
  const faults = faultsAmong(logs.table.tags.texts);
  for (const [tag, { report, record, field }] of cellsOfTags(new Set(faults.keys()), logs))
    report.cell({ record, field, value: logs.table.tags.texts[tag]! }, faults.get(tag)!);
}

function checkPassIds({ passes }: FacilityLogs): void {
  const byPlace = new Map<string, LogPass[]>();
  for (const pass of passes) {
    const place = `${pass.round} ${pass.readPoint}`;
    const own = byPlace.get(place);
    if (own === undefined) byPlace.set(place, [pass]);
    else own.push(pass);
  }
  for (const own of byPlace.values()) {
    for (const [i, fault] of faultsAmong(own.map(({ id }) => id))) {
      const { file, at, id } = own[i]!;
      file.report.cell({ record: at, field: file.header.fields.get("pass")!, value: id }, fault);
    }
  }
}

function checkValues(name: string, { table, passes }: FacilityLogs): void {
  const { texts, ids } = table.column(name)!;
  const faults = faultsAmong(texts.texts);
  for (let row = 0; row < table.length && faults.size > 0; row += 1) {
    const id = ids[row]!;
    const fault = faults.get(id);
    if (fault === undefined) continue;
    faults.delete(id);
    const pass = passes[table.pass[row]!]!;
    const item = pass.manifest?.items.get(table.tag[row]!);
    const inManifest = pass.manifest?.header?.fields.get(name);
    const value = texts.texts[id]!;
    if (pass.manifest !== null && item !== undefined && inManifest !== undefined) {
      pass.manifest.sheet.report.cell({ record: item.at, field: inManifest, value }, fault);
    } else {
      const { report, header } = pass.file;
      report.cell({ record: table.at[row]!, field: header.fields.get(name)!, value }, fault);
    }
  }
}

/** By place in the list: what is wrong with a text, the others considered. */
function faultsAmong(texts: readonly string[]): Map<number, ProblemText> {
  const faults = new Map<number, ProblemText>();
  // Nearly all lists are plain ASCII, and need no comparison.
  const strange = texts.flatMap((text, i) => (firstLookalike(text) === null ? [] : [i]));
  if (strange.length === 0) return faults;
  const firstOf = new Map<string, number>();
  for (const [i, text] of texts.entries()) {
    const looks = appearance(text);
    if (looks === text || !firstOf.has(looks)) firstOf.set(looks, i);
  }
  for (const i of strange) {
    const text = texts[i]!;
    const other = texts[firstOf.get(appearance(text))!]!;
    const mixed = lookalikeIn(text);
    if (other !== text) faults.set(i, lookalikeCharacters.twins({ text, other, ...firstLookalike(text)! }));
    else if (mixed !== null) faults.set(i, lookalikeCharacters.mixed({ text, ...mixed }));
  }
  return faults;
}

/** Where a tag is written, or else the pass in which a reader heard it. */
interface TagCell {
  report: CsvReport;
  record: number;
  field: number;
  /** Whether the cell holds the code. */
  isCode: boolean;
}

/** The first cell of each tag. */
function cellsOfTags(
  tags: ReadonlySet<number>,
  { manifests, table, passes }: FacilityLogs,
): Map<number, TagCell> {
  const cells = new Map<number, TagCell>();
  if (tags.size === 0) return cells;
  for (const { items, header, sheet } of manifests.values()) {
    const field = header?.fields.get("tag");
    if (field === undefined) continue;
    for (const tag of tags) {
      const item = items.get(tag);
      if (item === undefined || cells.has(tag)) continue;
      cells.set(tag, { report: sheet.report, record: item.at, field, isCode: true });
    }
  }
  for (let row = 0; row < table.length && cells.size < tags.size; row += 1) {
    const tag = table.tag[row]!;
    if (tags.has(tag) && !cells.has(tag))
      cells.set(tag, cellInLog(passes[table.pass[row]!]!, table.at[row]!));
  }
  return cells;
}

function cellInLog({ file, startedAt }: LogPass, at: number): TagCell {
  const { report, header } = file;
  const own = header.fields.get("tag") ?? header.fields.get("stray_tags");
  if (own !== undefined) return { report, record: at, field: own, isCode: true };
  const field = header.fields.get("started_at") ?? 0;
  return { report, record: startedAt?.at ?? at, field, isCode: false };
}
