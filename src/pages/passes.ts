import { tagReadRate } from "../measures/tag-read-rate.ts";
import { counted } from "../model/number-words.ts";
import type { Result, RoundResult } from "../model/result.ts";
import { facilityPage, type Link, type Page } from "./page.ts";
import { type PassBlock, type PassSheet, passSheets } from "./passes/pass-sheets.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import { passCount, rateSentence } from "./words/findings.ts";

/** More passes than this on one page are folded away; a link to one of them unfolds it. */
const mostOpen = 60;

/**
 * All passes of all rounds and read points. Where they fit on one page there is one; else that page leads to pages of
 * their own for each read point.
 */
export function passesPages(result: Result): Page[] {
  const sheets = passSheets(result);
  const path = facilityPaths(result).passes;
  const only = sheets[0];
  if (sheets.length === 1 && only?.path === path) return [sheetPage(result, only, only.blocks, [])];
  return [
    sheetPage(
      result,
      { path, blocks: [] },
      sheets.flatMap(({ blocks }) => blocks),
      sheets,
    ),
    ...sheets.map((sheet) => sheetPage(result, sheet, sheet.blocks, sheets)),
  ];
}

function sheetPage(result: Result, sheet: PassSheet, listed: PassBlock[], others: PassSheet[]): Page {
  const paths = facilityPaths(result);
  const { path, blocks } = sheet;
  const titleOf = (round: RoundResult): string =>
    result.rounds.find(({ id }) => id === round.id)?.title ?? round.id;
  const pathOf = (block: PassBlock): string =>
    others.find((other) => other.blocks.includes(block))?.path ?? path;
  const few = blocks.reduce((sum, { rows }) => sum + rows.length, 0) <= mostOpen;
  const at = others.findIndex((other) => other.path === path);
  return facilityPage(result, "passes", path, "Pass by pass", {
    lead: leadSentence(result),
    table: { label: "passes.csv", href: relativeLink(path, paths.table("passes")) },
    contents: listed
      .filter(({ continued }) => !continued)
      .map((block) => ({
        label: `${block.readPoint.name}, ${titleOf(block.round)}`,
        href: `${pathOf(block) === path ? "" : relativeLink(path, pathOf(block))}#${block.anchor}`,
        count: passCount(block.round),
      })),
    earlier: neighbour(others[at - 1], path, "Earlier passes"),
    later: neighbour(at < 0 ? undefined : others[at + 1], path, "Further passes"),
    blocks: blocks.map((block) => ({
      anchor: block.anchor,
      title: `${block.readPoint.name}, ${titleOf(block.round)}${block.continued ? ", continued" : ""}`,
      readPoint: {
        label: block.readPoint.name,
        href: relativeLink(path, paths.readPoints.get(block.readPoint.id) ?? ""),
      },
      sentence: roundSentence(block.round),
      source: sourceOf(block),
      summary: `${counted(block.rows.length, "pass", "passes")} in the order walked`,
      open: few && block.readPoint.signOffRound === block.round.id,
      rows: block.rows,
    })),
  });
}

function neighbour(sheet: PassSheet | undefined, from: string, label: string): Link | null {
  return sheet === undefined ? null : { label, href: relativeLink(from, sheet.path) };
}

/** The log that holds all passes of a block; empty where the rows have to name theirs. */
function sourceOf({ rows }: PassBlock): string {
  const sources = new Set(rows.map(({ source }) => source));
  return sources.size === 1 ? ([...sources][0] ?? "") : "";
}

function roundSentence(round: RoundResult): string {
  if (round.passList.length === 0) return "Nobody walked this read point in this round.";
  return `${passCount(round)}. ${rateSentence(tagReadRate, round.tagReadRate)}`;
}

function leadSentence(result: Result): string {
  const rounds = result.readPoints.flatMap((readPoint) => readPoint.rounds);
  const passes = rounds.reduce((sum, round) => sum + round.passList.length, 0);
  const voids = rounds.reduce((sum, round) => sum + round.voidPasses, 0);
  if (passes === 0) return "No pass has been walked yet.";
  const void_ = voids === 0 ? "none of them is void" : `${counted(voids, "of them is", "of them are")} void`;
  return `${counted(passes, "pass was", "passes were")} logged at ${counted(
    result.readPoints.length,
    "read point",
    "read points",
  )}; ${void_}.`;
}
