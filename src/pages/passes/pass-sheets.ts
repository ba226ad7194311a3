import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { FacilityContext } from "../parts/page.ts";
import { distinctSlugs, type PassPlace, passAnchors, relativeLink } from "../parts/paths.ts";
import { type PassRow, passRow, rowWeight } from "./pass-rows.ts";

/** Passes of one round at one read point that stand together on one page. */
export interface PassBlock {
  readPoint: ReadPointResult;
  round: RoundResult;
  /** Of the block's heading. */
  anchor: string;
  rows: PassRow[];
  /** Where the round began on an earlier page. */
  continued: boolean;
}

/** One page full of passes. */
export interface PassSheet {
  path: string;
  blocks: PassBlock[];
}

/** A page stays under about a megabyte, its own markup included. */
const mostWeight = 600_000;

const sheetsOf = new WeakMap<Result, PassSheet[]>();

/**
 * All passes of a facility, cut into pages: a single one where they fit on it, else pages of their own for each read
 * point, with as many as it takes. Made once a result, since every kind of page leads to passes.
 */
export function passSheets(facility: FacilityContext): PassSheet[] {
  const sheets = sheetsOf.get(facility.result) ?? cutSheets(facility);
  sheetsOf.set(facility.result, sheets);
  return sheets;
}

function cutSheets({ result, paths }: FacilityContext): PassSheet[] {
  const anchorOf = passAnchors(result);
  const rounds = distinctSlugs(result.rounds.map(({ id }) => id));
  const byReadPoint = result.readPoints.map((readPoint) =>
    readPoint.rounds.map((round, index): PassBlock => {
      const anchor = `passes-${paths.readPointStem(readPoint.id)}-${rounds[index]}`;
      const rows = round.passList.map((pass) =>
        passRow(
          pass,
          anchorOf({ round: round.id, readPoint: readPoint.id, pass: pass.id }),
          result.conditions,
        ),
      );
      return { readPoint, round, anchor, rows, continued: false };
    }),
  );
  const all = byReadPoint.flat();
  if (weightOf(all) <= mostWeight) return [{ path: paths.passes, blocks: all }];
  return result.readPoints.flatMap((readPoint, index) => {
    const name = paths.readPointStem(readPoint.id);
    return cut(byReadPoint[index] ?? []).map((blocks, page) => ({
      path: `${paths.folder}/passes/${name}${page === 0 ? "" : `.${page + 1}`}.html`,
      blocks,
    }));
  });
}

function weightOf(blocks: PassBlock[]): number {
  let sum = 0;
  for (const { rows } of blocks) for (const row of rows) sum += rowWeight(row);
  return sum;
}

function cut(blocks: PassBlock[]): PassBlock[][] {
  const pages: PassBlock[][] = [[]];
  let weight = 0;
  for (const block of blocks) {
    let part: PassBlock = { ...block, rows: [] };
    pages.at(-1)!.push(part);
    for (const row of block.rows) {
      const more = rowWeight(row);
      if (weight + more > mostWeight && weight > 0) {
        if (part.rows.length === 0) pages.at(-1)!.pop();
        else part = { ...block, anchor: `${block.anchor}-continued`, rows: [], continued: true };
        pages.push([part]);
        weight = 0;
      }
      part.rows.push(row);
      weight += more;
    }
  }
  return pages.map((page) =>
    page.filter(({ rows, round }) => rows.length > 0 || round.passList.length === 0),
  );
}

/** Links to a pass and to a round's block of passes, from any page. */
export interface PassLinks {
  pass(from: string, place: PassPlace): string;
  round(from: string, round: RoundResult, readPoint: ReadPointResult): string;
}

export function passLinks(facility: FacilityContext): PassLinks {
  const sheets = passSheets(facility);
  const pages = pagesOfAnchors(sheets);
  const anchorOf = passAnchors(facility.result);
  const blocks = sheets.flatMap(({ blocks }) => blocks);
  const to = (from: string, anchor: string): string => {
    const path = pages.get(anchor) ?? facility.paths.passes;
    return `${path === from ? "" : relativeLink(from, path)}#${anchor}`;
  };
  return {
    pass: (from, place) => to(from, anchorOf(place)),
    round: (from, round, readPoint) => {
      const block = blocks.find((entry) => entry.round === round && entry.readPoint === readPoint);
      return to(from, block?.anchor ?? "");
    },
  };
}

/** The page on which each anchor stands, of passes and of their blocks. */
function pagesOfAnchors(sheets: PassSheet[]): Map<string, string> {
  const pages = new Map<string, string>();
  for (const { path, blocks } of sheets) {
    for (const { anchor, rows } of blocks) {
      pages.set(anchor, path);
      for (const row of rows) pages.set(row.anchor, path);
    }
  }
  return pages;
}
