import { columnValues } from "./conditions.ts";
import type { Condition, Facility, WhereClause } from "./facility.ts";
import { type PassLog, Role, type TextColumn } from "./pass-log.ts";

/** One read point in one round, by their ids. */
export interface ReadPointRound {
  readPoint: string;
  round: string;
}

/** Which rows belong to which place: found once, so that a finding looks at its own rows only. */
export interface RowIndex {
  /** Row numbers, void passes included; the order carries no meaning. */
  rowsAt(place: ReadPointRound): Int32Array;
  /** Pass numbers, in the order walked. */
  passesAt(place: ReadPointRound): number[];
  /** The entries of a pass in what the readers heard: from, and to below. */
  heardIn(pass: number): [from: number, to: number];
}

const noRows = new Int32Array(0);

/** Made once for a log; takes two walks over its rows. */
export function indexRows(log: PassLog): RowIndex {
  const places = new Map<string, Map<string, number>>();
  const passesByPlace: number[][] = [];
  const placeOfPass = new Int32Array(log.passes.length);
  log.passes.forEach(({ readPoint, round }, pass) => {
    const rounds = places.get(readPoint) ?? new Map<string, number>();
    places.set(readPoint, rounds);
    const place = rounds.get(round) ?? passesByPlace.push([]) - 1;
    rounds.set(round, place);
    passesByPlace[place]!.push(pass);
    placeOfPass[pass] = place;
  });
  const { pass, length } = log.rows;
  const counts = new Int32Array(passesByPlace.length);
  for (let row = 0; row < length; row += 1) counts[placeOfPass[pass[row]!]!]! += 1;
  const rowsByPlace = passesByPlace.map((_, place) => new Int32Array(counts[place]!));
  const filled = new Int32Array(passesByPlace.length);
  for (let row = 0; row < length; row += 1) {
    const place = placeOfPass[pass[row]!]!;
    rowsByPlace[place]![filled[place]!++] = row;
  }
  const numberOf = ({ readPoint, round }: ReadPointRound) => places.get(readPoint)?.get(round) ?? -1;
  return {
    rowsAt: (place) => rowsByPlace[numberOf(place)] ?? noRows,
    passesAt: (place) => passesByPlace[numberOf(place)] ?? [],
    heardIn: heardByPass(log),
  };
}

function heardByPass({ heard, passes }: PassLog): RowIndex["heardIn"] {
  const starts = new Int32Array(passes.length + 1);
  if (heard !== null) for (let i = 0; i < heard.length; i += 1) starts[heard.pass[i]! + 1]! += 1;
  for (let pass = 1; pass <= passes.length; pass += 1) starts[pass]! += starts[pass - 1]!;
  return (pass) => [starts[pass]!, starts[pass + 1]!];
}

/** A facility with its log, and the log's rows by place: what every part of the analysis starts from. */
export interface WalkedFacility {
  facility: Facility;
  log: PassLog;
  index: RowIndex;
}

/** The rows that a figure looks at. */
export interface Selection extends ReadPointRound {
  log: PassLog;
  /** Row numbers of the place. */
  rows: Int32Array;
  match: Matcher;
  /** Whether void passes are counted in. */
  withVoids: boolean;
}

/** How a row stands to the clauses of a criterion. */
export const Match = {
  no: 0,
  yes: 1,
  /**
   * A code read uninvited whose own condition is blank: nobody placed it, so nobody knows how it lay. It belongs to its
   * pass whatever the condition.
   */
  unplaced: 2,
} as const;

type Matcher = (row: number) => 0 | 1 | 2;

const everyRow: Matcher = () => Match.yes;

/**
 * Says which rows all clauses take. A row with a blank in one of the columns is not taken. A column that no log has matches
 * nothing, or, for want of any value, leaves a stray unplaced.
 */
function rowMatcher(log: PassLog, conditions: Condition[], clauses: WhereClause[]): Matcher {
  if (clauses.length === 0) return everyRow;
  const tests = clauses.map((clause) => {
    const column = log.rows.columns.get(clause.column);
    if (column === undefined) return () => null;
    const values = columnValues(conditions, clause.column);
    const allowed = column.values.map((text) => values.allows(clause, text));
    return (row: number) => {
      const text = column.index[row]!;
      return text === -1 ? null : allowed[text]!;
    };
  });
  const { role } = log.rows;
  return (row) => {
    let unplaced = false;
    for (let i = 0; i < tests.length; i += 1) {
      const answer = tests[i]!(row);
      if (answer === false) return Match.no;
      if (answer === null) unplaced = true;
    }
    if (!unplaced) return Match.yes;
    return role[row] === Role.stray || role[row] === Role.notPresented ? Match.unplaced : Match.no;
  };
}

/** The rows of a place that all clauses take, or every row of it. */
export function select(
  { facility, log, index }: WalkedFacility,
  { readPoint, round }: ReadPointRound,
  { clauses = [], withVoids = false }: { clauses?: WhereClause[]; withVoids?: boolean } = {},
): Selection {
  const rows = index.rowsAt({ readPoint, round });
  const match = rowMatcher(log, facility.conditions, clauses);
  return { log, readPoint, round, rows, match, withVoids };
}

/** The rows of passes that count, whatever they stand for. */
export function countedRows(selection: Selection): Int32Array {
  return rowsThat(selection.rows, countedTest(selection));
}

/** The rows among them that the selection's clauses take. */
export function matchingRows(selection: Selection): Int32Array {
  const isCounted = countedTest(selection);
  return rowsThat(selection.rows, (row) => isCounted(row) && selection.match(row) === Match.yes);
}

/** Of the rows of a place: those of valid passes that present tags that were to be read. Most figures start from them. */
const presentedRows = new WeakMap<Int32Array, Int32Array>();

/** The rows among those that present something: tags that were to be read, or, by their role, tags that were not. */
export function presentationRows(selection: Selection, wanted: number = Role.presented): Int32Array {
  const { rows, match, withVoids } = selection;
  const isUsual = wanted === Role.presented && !withVoids;
  const presented = (isUsual ? presentedRows.get(rows) : undefined) ?? foundPresentations(selection, wanted);
  if (isUsual) presentedRows.set(rows, presented);
  return match === everyRow ? presented : rowsThat(presented, (row) => match(row) === Match.yes);
}

function foundPresentations(selection: Selection, wanted: number): Int32Array {
  const { rows, log, withVoids } = selection;
  const { role, presentations, pass } = log.rows;
  const isCounted = log.passes.map(({ voidReason }) => withVoids || voidReason === null);
  const kept = new Int32Array(rows.length);
  let count = 0;
  for (let i = 0; i < rows.length; i += 1) {
    const row = rows[i]!;
    if (role[row] === wanted && presentations[row]! > 0 && isCounted[pass[row]!]!) kept[count++] = row;
  }
  return kept.subarray(0, count);
}

function countedTest({ log, withVoids }: Selection): (row: number) => boolean {
  if (withVoids) return () => true;
  const { pass } = log.rows;
  const isValid = log.passes.map(({ voidReason }) => voidReason === null);
  return (row) => isValid[pass[row]!]!;
}

/** What the array's own filter does, at a third of its cost: a log may have millions of rows. */
function rowsThat(rows: Int32Array, test: (row: number) => boolean): Int32Array {
  const kept = new Int32Array(rows.length);
  let count = 0;
  for (let i = 0; i < rows.length; i += 1) if (test(rows[i]!)) kept[count++] = rows[i]!;
  return kept.subarray(0, count);
}

/**
 * The names under which the values of a column are reported at some read points: those that its condition declares, else those
 * that were walked in any round, void passes included; in order.
 */
export function namesAt(
  { facility, log, index }: WalkedFacility,
  { column, readPoints }: { column: string; readPoints: readonly string[] },
): string[] {
  const values = columnValues(facility.conditions, column);
  if (values.names !== null) return [...values.names];
  const texts = log.rows.columns.get(column);
  if (texts === undefined) return [];
  const seen = new Uint8Array(texts.values.length);
  for (const readPoint of readPoints) {
    for (const { id: round } of facility.rounds) {
      for (const text of textsIn(index.rowsAt({ readPoint, round }), texts)) seen[text] = 1;
    }
  }
  const names = texts.values.filter((_, text) => seen[text] === 1).map((text) => values.nameOf(text));
  return [...new Set(names.filter((name) => name !== null))].sort(values.order);
}

/** By column, then by the rows of a place: which of its texts they have. Asked by findings, rounds and comparisons alike. */
const knownTexts = new WeakMap<TextColumn, WeakMap<Int32Array, readonly number[]>>();

function textsIn(rows: Int32Array, column: TextColumn): readonly number[] {
  const ofColumn = knownTexts.get(column) ?? new WeakMap<Int32Array, readonly number[]>();
  knownTexts.set(column, ofColumn);
  let texts = ofColumn.get(rows);
  if (texts === undefined) {
    const seen = new Uint8Array(column.values.length);
    for (let i = 0; i < rows.length; i += 1) {
      const text = column.index[rows[i]!]!;
      if (text !== -1) seen[text] = 1;
    }
    texts = [...seen.keys()].filter((text) => seen[text] === 1);
    ofColumn.set(rows, texts);
  }
  return texts;
}
