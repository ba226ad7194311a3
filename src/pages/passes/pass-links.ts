import type { ReadPointResult, RoundResult } from "../../model/result.ts";
import type { FacilityContext } from "../parts/page.ts";
import { passAnchors, relativeLink } from "../parts/paths.ts";
import { type PassSheet, passSheets } from "./pass-sheets.ts";

/** Links to a pass and to a round's block of passes, from any page. */
export interface PassLinks {
  pass(from: string, round: string, readPoint: string, pass: string): string;
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
    pass: (from, round, readPoint, pass) => to(from, anchorOf(round, readPoint, pass)),
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
