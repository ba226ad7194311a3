import type { ReadPointResult, Result, RoundResult } from "../../model/result.ts";
import { passPlaces, passSheets } from "../passes/pass-sheets.ts";
import { facilityPaths, passAnchors, relativeLink } from "../paths.ts";

/** A pass named in running text or in a table, and the way to its row. */
export interface PassLink {
  label: string;
  href: string;
}

/** Ways to a pass and to a round's block of passes, for links on any page. */
export interface PassWays {
  pass(from: string, round: string, readPoint: string, pass: string): string;
  round(from: string, round: RoundResult, readPoint: ReadPointResult): string;
}

export function passWays(result: Result): PassWays {
  const sheets = passSheets(result);
  const places = passPlaces(sheets);
  const anchorOf = passAnchors(result);
  const fallback = facilityPaths(result).passes;
  const blocks = sheets.flatMap(({ blocks }) => blocks);
  const to = (from: string, anchor: string): string => {
    const path = places.get(anchor) ?? fallback;
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
