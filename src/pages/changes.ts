import type { Comparison, Result } from "../model/result.ts";
import { type ByCondition, byCondition } from "./changes/by-condition.ts";
import { changeFigure } from "./changes/change-figure.ts";
import { type ChangedTags, changedTagRows } from "./changes/changed-tag-rows.ts";
import {
  type ChangeSign,
  type ComparedCells,
  changeSignOf,
  comparedCells,
} from "./changes/compared-cells.ts";
import { namedChanges, type ReadPointChange, rankedChanges } from "./changes/ranked-changes.ts";
import { type RoundPair, roundPairs } from "./changes/round-pairs.ts";
import { changeAnchor, pairLinks, pairTitle } from "./changes/since.ts";
import { facilityPage, type Link, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import { roundTitle } from "./rounds/round-rows.ts";
import { pairTables } from "./tables/change-tables.ts";
import type { Table } from "./tables/table.ts";
import {
  changesSentence,
  comparisonReasonSentence,
  comparisonSentence,
  designSentence,
  worthSentence,
} from "./words/comparisons.ts";
import { dateOrWords } from "./words/dates.ts";

/** A page for each pair of rounds that was compared: what became of every read point, none averaged with another. */
export function changesPages(result: Result): Page[] {
  return roundPairs(result).map((pair) => changesPage(result, pair));
}

function changesPage(result: Result, pair: RoundPair): Page {
  const paths = facilityPaths(result);
  const path = paths.changes(pair);
  const changes = rankedChanges(pair, result);
  const tables = pairTables(result, pair);
  const download = (table: Table): Link => ({
    label: table.file,
    href: relativeLink(path, `${paths.folder}/tables/${table.file}`),
  });
  return facilityPage(result, "changes", path, pairTitle(result, pair), {
    verdict: changesSentence(namedChanges(changes)),
    before: roundWithDate(result, pair.before),
    after: roundWithDate(result, pair.after),
    columns: { before: roundTitle(result, pair.before), after: roundTitle(result, pair.after) },
    changed: changedBetween(result, pair),
    figure: changes.length === 0 ? null : changeFigure(pair, changes, result),
    readPoints: changes.map((change) => readPointEntry(result, change, path)),
    downloads: [download(tables.comparisons)],
    tagDownloads: tables.tags === null ? [] : [download(tables.tags)],
    others: pairLinks(result, path, pair),
    roundsHref: relativeLink(path, paths.rounds),
    howHref: `${relativeLink(path, paths.method)}#before-and-after`,
  });
}

function roundWithDate(result: Result, id: string): string {
  const date = dateOrWords(result.rounds.find((round) => round.id === id)?.date ?? null, "");
  return date === "" ? roundTitle(result, id) : `${roundTitle(result, id)} (${date})`;
}

/** What each round up to the later one states that was changed before it was walked. */
function changedBetween(result: Result, { before, after }: RoundPair): { title: string; text: string }[] {
  const placeOf = (id: string) => result.rounds.findIndex((round) => round.id === id);
  return result.rounds.slice(placeOf(before) + 1, placeOf(after) + 1).map(({ id, changes }) => ({
    title: `Before ${roundWithDate(result, id)}`,
    text: changes ?? "No change is stated.",
  }));
}

/** Everything the page says of one read point. */
interface ReadPointEntry {
  anchor: string;
  name: string;
  href: string;
  mark: ChangeSign;
  sentence: string;
  cells: ComparedCells | null;
  /** What tells the rounds apart, what was left out, and how they were compared. */
  notes: string[];
  byCondition: ByCondition;
  tags: ChangedTags;
}

function readPointEntry(
  result: Result,
  { readPoint, whole, byCondition: rows }: ReadPointChange,
  path: string,
): ReadPointEntry {
  const reasons = whole.reasons.map((reason) =>
    comparisonReasonSentence(reason, result.rounds, result.conditions),
  );
  return {
    anchor: changeAnchor(result, readPoint.id),
    name: readPoint.name,
    href: relativeLink(path, facilityPaths(result).readPoints.get(readPoint.id) ?? ""),
    mark: changeSignOf(whole.change),
    sentence: comparisonSentence(whole, result.basis.smallestChangeThatMatters),
    cells: comparedCells(whole),
    notes: [...reasons, sameSettings(result, whole), designSentence(whole), worthSentence(whole)].filter(
      (note) => note !== "",
    ),
    byCondition: byCondition(rows, result.conditions),
    tags: changedTagRows(whole),
  };
}

/** That the settings stayed as they were, where both rounds state them; empty where the reasons say otherwise. */
function sameSettings({ rounds }: Result, { readPoint, before, after, reasons }: Comparison): string {
  const stated = [before, after].map(
    (id) => rounds.find((round) => round.id === id)?.settings[readPoint] !== undefined,
  );
  const differ = reasons.some(({ code }) => code === "settings-differ");
  return stated.every((one) => one) && !differ ? "The settings stated are the same in both rounds." : "";
}
