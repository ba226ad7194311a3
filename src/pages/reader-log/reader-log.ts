import { counted, countText } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Section, type SectionView, sectionView } from "../parts/figure.ts";
import type { PageContext } from "../parts/page.ts";
import { antennasAlone } from "./antennas.ts";
import { idleReads } from "./idle-reads.ts";
import { firstReads, readsPerTag, signalByAntenna } from "./spreads.ts";
import { unexpectedTags } from "./strays.ts";

/** The evidence of a round from the reader's own log; empty without such a log. */
export function readerLogParts({ heard, passList }: RoundResult, files: TableFiles): Section[] {
  if (heard === null) return [];
  return [
    readsPerTag(heard, files),
    signalByAntenna(heard, files),
    antennasAlone(heard, files),
    firstReads(heard, validTimed(passList), files),
    unexpectedTags(heard, files),
    idleReads(heard, passList, files),
  ];
}

function validTimed(passes: RoundResult["passList"]): RoundResult["passList"] {
  return passes.filter(({ readsFrom, voidReason }) => readsFrom === "reader-log" && voidReason === null);
}

export interface ReaderLogView {
  sentence: string;
  parts: SectionView[];
}

/** Null where there is no such log. */
export function readerLogView(
  { heard, passList }: RoundResult,
  parts: Section[],
  here: PageContext,
): ReaderLogView | null {
  if (heard === null) return null;
  const read = `${countText(heard.tagsRead)} of ${counted(heard.tagsPresented, "tag", "tags")} presented were read`;
  return {
    sentence: `From the reader's own log, over ${counted(validTimed(passList).length, "valid timed pass", "valid timed passes")}: ${read}.`,
    parts: parts.map((part) => sectionView(part, here)),
  };
}
