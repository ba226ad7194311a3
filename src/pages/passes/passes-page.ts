import { tagReadRate } from "../../measures/tag-read-rate.ts";
import { counted } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { CsvTable } from "../parts/csv.ts";
import { fileOf } from "../parts/figure.ts";
import { definePage, type FacilityContext, type Link, type PageContext } from "../parts/page.ts";
import { passCount, rateSentence } from "../words/findings.ts";
import { passColumns, placedPasses } from "./pass-rows.ts";
import { type PassBlock, type PassSheet, passSheets } from "./pass-sheets.ts";
import { type PassTable, passTable } from "./pass-table.ts";

interface PassesView {
  lead: string;
  table: Link;
  contents: (Link & { count: string })[];
  earlier: Link | null;
  later: Link | null;
  blocks: PassBlockView[];
}

interface PassBlockView {
  anchor: string;
  title: string;
  readPoint: Link;
  sentence: string;
  summary: string;
  open: boolean;
  table: PassTable;
}

/** One page of passes among the others. */
interface PassesSubject {
  sheet: PassSheet;
  /** The blocks that its contents lead to. */
  contents: PassBlock[];
  /** All pages of passes; empty where there is but one. */
  others: PassSheet[];
}

/** More passes than this on one page are folded away; a link to one of them unfolds it. */
const mostOpen = 60;

const title = "Pass by pass";

/**
 * All passes of all rounds and read points. Where they fit on one page there is one; else that page leads to pages of
 * their own for each read point.
 */
export const passesPage = definePage({
  template: "passes",
  navigation: title,
  pages: (facility) => {
    const first = facility.paths.passes;
    const tables = [passesTable(facility)];
    const sheets = passSheets(facility);
    const [only] = sheets;
    if (sheets.length === 1 && only?.path === first) {
      const subject: PassesSubject = { sheet: only, contents: only.blocks, others: [] };
      return [{ path: first, title, subject, tables }];
    }
    const contents: PassesSubject = {
      sheet: { path: first, blocks: [] },
      contents: sheets.flatMap(({ blocks }) => blocks),
      others: sheets,
    };
    return [
      { path: first, title, subject: contents, tables },
      ...sheets.map((sheet) => ({
        path: sheet.path,
        title,
        subject: { sheet, contents: sheet.blocks, others: sheets },
      })),
    ];
  },
  view: passesView,
});

function passesTable({ result }: FacilityContext): CsvTable {
  const rows = result.readPoints.flatMap((readPoint) =>
    readPoint.rounds.flatMap((round) => placedPasses(readPoint, round)),
  );
  const file = {
    name: "passes",
    holds: "Every pass of every round, void ones too: conditions, counts, tags missed, strays, notes.",
  };
  return fileOf(file, passColumns(result, rows), rows);
}

function passesView(here: PageContext, { sheet, contents, others }: PassesSubject): PassesView {
  const { names, path } = here;
  const { blocks } = sheet;
  const titleOf = ({ readPoint, round }: PassBlock) => `${readPoint.name}, ${names.round(round.id)}`;
  const pathOf = (block: PassBlock) => others.find((other) => other.blocks.includes(block))?.path ?? path;
  const few = blocks.reduce((sum, { rows }) => sum + rows.length, 0) <= mostOpen;
  const at = others.findIndex((other) => other.path === path);
  const neighbour = (other: PassSheet | undefined, label: string) =>
    other === undefined ? null : here.link(label, other.path);
  return {
    lead: leadSentence(here.result),
    table: here.tableLink("passes"),
    contents: contents
      .filter(({ continued }) => !continued)
      .map((block) => ({
        label: titleOf(block),
        href: `${pathOf(block) === path ? "" : here.href(pathOf(block))}#${block.anchor}`,
        count: passCount(block.round),
      })),
    earlier: neighbour(others[at - 1], "Earlier passes"),
    later: neighbour(at < 0 ? undefined : others[at + 1], "Further passes"),
    blocks: blocks.map((block) => ({
      anchor: block.anchor,
      title: `${titleOf(block)}${block.continued ? ", continued" : ""}`,
      readPoint: here.link(block.readPoint.name, here.paths.readPoint(block.readPoint.id)),
      sentence: roundSentence(block.round),
      summary: `${counted(block.rows.length, "pass", "passes")} in the order walked`,
      open: few && block.readPoint.signOffRound === block.round.id,
      table: passTable(block.rows),
    })),
  };
}

function roundSentence(round: RoundResult): string {
  if (round.passList.length === 0) return "No pass was walked here in this round.";
  return `${passCount(round)}. ${rateSentence(tagReadRate, round.tagReadRate)}`;
}

function leadSentence(result: Result): string {
  const rounds = result.readPoints.flatMap((readPoint) => readPoint.rounds);
  const passes = rounds.reduce((sum, round) => sum + round.passList.length, 0);
  const voids = rounds.reduce((sum, round) => sum + round.voidPasses, 0);
  if (passes === 0) return "No pass has been walked yet.";
  const void_ = voids === 0 ? "none of them void" : `${counted(voids, "of them is", "of them are")} void`;
  return `${counted(passes, "pass was", "passes were")} logged at ${counted(
    result.readPoints.length,
    "read point",
    "read points",
  )}; ${void_}.`;
}
