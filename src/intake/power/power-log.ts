import { join } from "node:path";
import { decimalOf } from "../../model/decimal.ts";
import type { Facility } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import {
  type PowerCohort,
  type PowerStep,
  type PowerSteps,
  transmitPowerDbm,
} from "../../model/radio/power-steps.ts";
import { statedPowerDbm } from "../../model/radio/setting-names.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { Answer, answerOf, trimmed, wholeNumberOf, withPoint } from "../csv/cells.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { copiesAmong } from "../pass-log/copies.ts";
import { TagCells } from "../pass-log/rows/cells.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import { columnMissing, columnUndeclared, fileCopied } from "../problems/csv-file.ts";
import {
  answerBlank,
  answerUnclear,
  countBlank,
  countUnreadable,
  readMoreThanPresented,
  readPointBlank,
  readPointUnknown,
  roundBlank,
  roundUnknown,
  tagBlank,
} from "../problems/pass-log.ts";
import { powerInUseMissing, powerLogUnclear, powerOutOfRange, powersTooFew } from "../problems/power.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type DeclaredColumns, nothingDeclared } from "../tables/declared-columns.ts";
import { type Header, openHeader } from "../tables/header.ts";
import { openSheet } from "../tables/open-sheet.ts";
import { TextTable } from "../tables/text-table.ts";

/** The power logs of a facility's folder. */
export interface PowerFolder {
  folder: string;
  /** Paths relative to the folder, with `/`. */
  files: readonly { path: string }[];
  facility: Facility;
  /** Whether facility.yaml could be read: else no log can be held against its names. */
  isFacilityKnown: boolean;
}

/** What the power logs say, by round and read point in the order of facility.yaml; and the files as inputs. */
export interface PowerEvidence {
  power: PowerSteps[];
  inputs: InputFile[];
}

/** Where the rows of one read point in one round were met first, for what is said of all of them. */
interface Gathered {
  path: string;
  byPower: Map<number, PowerStep>;
  /** The powers at which each tag was presented, by the number that its code has in the table of tags. */
  byTag: Map<number, number[]>;
  /** Whether every row names its tag. */
  isNamed: boolean;
}

const counted = ["tags_presented", "tags_read"];
const named = ["tag", "read"];
const columns = ["round", "read_point", "power_dbm", ...counted, ...named];
const declared: DeclaredColumns = { ...nothingDeclared, withUnit: new Map([["power_dbm", "dBm"]]) };

/** Reads the power logs: one row a power, or one row a tag at a power. Rows of one power are put together. */
export async function readPowerLogs(
  given: PowerFolder,
  { problems, yaml }: { problems: ProblemList; yaml: YamlReport },
): Promise<PowerEvidence> {
  const { folder, files, facility } = given;
  const steps = new Map<string, Gathered>();
  const tags = new TextTable();
  const inputs = new Map<string, InputFile>();
  const copies = await copiesAmong(
    folder,
    files.map(({ path }) => path),
  );
  for (const { path } of files) {
    for (const name of facility.sheets[path] ?? [null]) {
      const onDisk = join(folder, path);
      const sheet = openSheet({ path, onDisk, rowsAre: "powers", sheet: name }, problems);
      const original = copies.get(path);
      const header = original === undefined ? await headerOf(sheet, given) : null;
      if (header === null) {
        await sheet.skipRows();
        if (original !== undefined) sheet.report.whole(fileCopied.powerLog({ path, original }));
        continue;
      }
      const used = await readRows({ sheet, header, steps, tags, given });
      const { source } = sheet;
      const before = inputs.get(path);
      inputs.set(path, {
        ...source,
        rows: (before?.rows ?? 0) + source.rows,
        used: (before?.used ?? 0) + used,
        void: 0,
      });
    }
  }
  const power = inOrder(steps, facility);
  remarkOn(power, { steps, facility, problems, yaml });
  return { power, inputs: [...inputs.values()] };
}

/** Null, with the reason reported, where the rows cannot be read. */
async function headerOf(sheet: Sheet, { facility }: PowerFolder): Promise<Header | null> {
  const header = await openHeader(sheet, { own: columns, declared });
  if (header === null) return null;
  const { report } = sheet;
  const place = { record: header.at, field: null };
  for (const { name, field } of header.extras)
    report.at({ record: header.at, field }, columnUndeclared.inPowerLog({ name }));
  const forms = [counted, named].filter((form) => form.some((column) => header.fields.has(column)));
  if (forms.length !== 1) {
    const found = [...counted, ...named].filter((column) => header.fields.has(column));
    report.at(place, powerLogUnclear.with({ columns: found }));
    return null;
  }
  const round = facility.rounds.length > 1 ? ["round"] : [];
  const missing = [...round, "read_point", "power_dbm", ...forms[0]!].filter(
    (column) => !header.fields.has(column),
  );
  const others = header.extras.map(({ name }) => name);
  for (const name of missing)
    report.at(
      place,
      name === "round"
        ? columnMissing.round({ file: "a power log" })
        : columnMissing.with({ name, file: "a power log", others }),
    );
  return missing.length === 0 ? header : null;
}

/** @returns how many rows were used */
async function readRows({
  sheet,
  header,
  steps,
  tags,
  given,
}: {
  sheet: Sheet;
  header: Header;
  steps: Map<string, Gathered>;
  tags: TextTable;
  given: PowerFolder;
}): Promise<number> {
  const placeOf = placeReader(sheet, header, given);
  const powerOf = powerReader(sheet, header);
  const countsOf = header.fields.has("tag") ? namedReader(sheet, header, tags) : countedReader(sheet, header);
  let used = 0;
  for await (const records of sheet.rows(header.width)) {
    for (const record of records) {
      const place = placeOf(record);
      const powerDbm = powerOf(record);
      const counts = countsOf(record);
      if (place === null || powerDbm === null || counts === null) continue;
      used += 1;
      const own = steps.get(place) ?? emptyPlace(sheet.path);
      steps.set(place, own);
      if (counts.tag === null) own.isNamed = false;
      else presentedAt(own, counts.tag).push(powerDbm);
      const step = own.byPower.get(powerDbm);
      own.byPower.set(powerDbm, {
        powerDbm,
        presented: (step?.presented ?? 0) + counts.presented,
        read: (step?.read ?? 0) + counts.read,
      });
    }
  }
  return used;
}

function emptyPlace(path: string): Gathered {
  return { path, byPower: new Map(), byTag: new Map(), isNamed: true };
}

/** The powers of a tag so far. */
function presentedAt({ byTag }: Gathered, tag: number): number[] {
  const powers = byTag.get(tag) ?? [];
  byTag.set(tag, powers);
  return powers;
}

/** The cell of a column, with a reporter of what is wrong with it; blank where the file has no such column. */
function cellReader({ report }: Sheet, { fields }: Header, column: string) {
  const field = fields.get(column) ?? -1;
  return ({ cells, at }: CsvRecord) => {
    const text = field < 0 ? "" : trimmed(cells[field]!);
    return {
      text,
      refuse: (problem: ProblemText) => {
        report.cell({ record: at, field, value: text }, problem);
        return null;
      },
    };
  };
}

/** Where a row belongs, as a key; null, with the reason reported, where facility.yaml knows no such place. */
function placeReader(sheet: Sheet, header: Header, { facility, isFacilityKnown }: PowerFolder) {
  const rounds = facility.rounds.map(({ id }) => id);
  const readPoints = facility.readPoints.map(({ id }) => id);
  const roundAt = cellReader(sheet, header, "round");
  const pointAt = cellReader(sheet, header, "read_point");
  return (record: CsvRecord): string | null => {
    if (!isFacilityKnown) return null;
    const round = roundAt(record);
    const point = pointAt(record);
    const name = round.text === "" && rounds.length === 1 ? rounds[0]! : round.text;
    const isRound = rounds.includes(name);
    const isPoint = readPoints.includes(point.text);
    if (!isRound)
      round.refuse(
        name === "" ? roundBlank.with({ known: rounds }) : roundUnknown.with({ name, known: rounds }),
      );
    if (!isPoint)
      point.refuse(
        point.text === ""
          ? readPointBlank.with({ known: readPoints })
          : readPointUnknown.with({ name: point.text, known: readPoints }),
      );
    return isRound && isPoint ? keyOf(name, point.text) : null;
  };
}

const keyOf = (round: string, readPoint: string) => `${round}\u0000${readPoint}`;

function powerReader(sheet: Sheet, header: Header) {
  const powerAt = cellReader(sheet, header, "power_dbm");
  return (record: CsvRecord): number | null => {
    const { text, refuse } = powerAt(record);
    const dbm = decimalOf(sheet.decimalComma ? withPoint(text) : text);
    const isPower = dbm >= transmitPowerDbm.lowest && dbm <= transmitPowerDbm.highest;
    // A written -0 is 0.
    return isPower ? dbm || 0 : refuse(powerOutOfRange.with({ text, dbm }));
  };
}

/** What a row counts at its power; the number of its tag, null where it names none. */
type CountsReader = (record: CsvRecord) => (Omit<PowerStep, "powerDbm"> & { tag: number | null }) | null;

function countedReader(sheet: Sheet, header: Header): CountsReader {
  const presentedAt = cellReader(sheet, header, "tags_presented");
  const readAt = cellReader(sheet, header, "tags_read");
  const countOf = ({ text, refuse }: ReturnType<typeof presentedAt>): number | null => {
    const count = wholeNumberOf(text);
    return Number.isNaN(count) ? refuse(text === "" ? countBlank : countUnreadable.ofTags()) : count;
  };
  return (record) => {
    const presented = countOf(presentedAt(record));
    const cell = readAt(record);
    const read = countOf(cell);
    if (presented === null || read === null) return null;
    return read > presented
      ? cell.refuse(readMoreThanPresented.atAPower({ presented }))
      : { presented, read, tag: null };
  };
}

function namedReader(sheet: Sheet, header: Header, known: TextTable): CountsReader {
  const tagField = header.fields.get("tag")!;
  const tags = new TagCells(known, sheet.report);
  const tagAt = cellReader(sheet, header, "tag");
  const readAt = cellReader(sheet, header, "read");
  return (record) => {
    const tag = tags.read(record, tagField);
    if (tag < 0) tagAt(record).refuse(tagBlank.inPowerLog());
    const { text, refuse } = readAt(record);
    const answer = answerOf(text);
    if (answer > Answer.yes)
      return refuse(answer === Answer.blank ? answerBlank.with({ column: "read" }) : answerUnclear.with());
    return { presented: 1, read: answer, tag };
  };
}

function inOrder(steps: ReadonlyMap<string, Gathered>, facility: Facility): PowerSteps[] {
  return facility.rounds.flatMap(({ id: round, settings }) =>
    facility.readPoints.flatMap(({ id: readPoint }): PowerSteps[] => {
      const own = steps.get(keyOf(round, readPoint));
      if (own === undefined) return [];
      const presented = [...own.byPower.values()].filter((step) => step.presented > 0);
      const inOrder = presented.sort((a, b) => a.powerDbm - b.powerDbm);
      const inUseDbm = statedPowerDbm(settings[readPoint] ?? {});
      const cohorts = own.isNamed ? cohortsOf(own.byTag, inOrder) : null;
      return [{ readPoint, round, inUseDbm, steps: inOrder, cohorts }];
    }),
  );
}

/** Tags that were presented equally often at the same powers are of one cohort. */
function cohortsOf(
  byTag: ReadonlyMap<number, readonly number[]>,
  steps: readonly PowerStep[],
): PowerCohort[] {
  const stepAt = new Map(steps.map(({ powerDbm }, step) => [powerDbm, step]));
  const cohorts = new Map<string, PowerCohort>();
  for (const powers of byTag.values()) {
    const trials = new Map<number, number>();
    for (const power of powers) {
      const step = stepAt.get(power)!;
      trials.set(step, (trials.get(step) ?? 0) + 1);
    }
    const alike = [...trials].sort(([a], [b]) => a - b);
    const key = alike.join(" ");
    const cohort = cohorts.get(key) ?? {
      subjects: 0,
      groups: alike.map(([step]) => step),
      trials: alike.map(([, often]) => often),
    };
    cohort.subjects += 1;
    cohorts.set(key, cohort);
  }
  return [...cohorts].sort(([a], [b]) => byCodePoint(a, b)).map(([, cohort]) => cohort);
}

function remarkOn(
  power: readonly PowerSteps[],
  {
    steps,
    facility,
    problems,
    yaml,
  }: {
    steps: ReadonlyMap<string, Gathered>;
    facility: Facility;
    problems: ProblemList;
    yaml: YamlReport;
  },
): void {
  for (const { readPoint, round, inUseDbm, steps: own } of power) {
    const file = steps.get(keyOf(round, readPoint))!.path;
    const place = { readPoint, round };
    if (own.length < 2) problems.report({ file }, powersTooFew.with({ ...place, powers: own.length }));
    const isJudged = facility.readPoints.some(
      ({ id, signOffRound }) => id === readPoint && signOffRound === round,
    );
    const at = facility.rounds.findIndex(({ id }) => id === round);
    if (isJudged && inUseDbm === null) yaml.value(["rounds", at], powerInUseMissing.with(place));
  }
}
