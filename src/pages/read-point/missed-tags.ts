import { counted, countText } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { type CsvTable, csvTable, type TableFiles } from "../parts/csv.ts";
import type { Link } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import { codeName } from "../words/labels.ts";

/** The tags missed at least once, as a file. */
export function missedTagsFile({ missedTags }: RoundResult, files: TableFiles): CsvTable {
  return csvTable(
    files("missed-tags", "tags missed at least once."),
    [
      { header: "tag", value: ({ tag }) => tag },
      { header: "uri", value: ({ uri }) => uri },
      { header: "presented", value: ({ presented }) => presented },
      { header: "missed", value: ({ missed }) => missed },
      { header: "passes", value: ({ passes }) => passes.join("; ") },
    ],
    missedTags,
  );
}

/** A tag that was missed, and where. */
interface MissedTagRow {
  tag: string;
  /** Its pure identity, or raw URI; empty for a label. */
  uri: string;
  /** `13 of 24`. */
  missed: string;
  passes: Link[];
  /** `and 12 more`; empty where all are named. */
  more: string;
}

export interface MissedTags {
  sentence: string;
  rows: MissedTagRow[];
  /** Where not all of them are listed; else empty. */
  rest: string;
}

const mostTags = 100;
const mostPasses = 24;

/** The tags missed at least once, most often missed first. */
export function missedTagRows(round: RoundResult, linkOf: (pass: string) => Link): MissedTags {
  const { missedTags } = round;
  const rest = missedTags.length - mostTags;
  return {
    sentence: missedSentence(round),
    rows: missedTags.slice(0, mostTags).map(({ tag, uri, presented, missed, passes }) => ({
      tag,
      uri: codeName(tag, uri),
      missed: countOf({ k: missed, n: presented }),
      passes: passes.slice(0, mostPasses).map(linkOf),
      more: passes.length > mostPasses ? `and ${countText(passes.length - mostPasses)} more` : "",
    })),
    rest:
      rest > 0
        ? `${counted(rest, "further tag was", "further tags were")} missed less often; the CSV table has all of them.`
        : "",
  };
}

function missedSentence(round: RoundResult): string {
  const { tagsPresented, tagsRead, missedTags } = round;
  if (tagsPresented === 0) return "No tag was presented in this round, so no tag was missed.";
  const misses = tagsPresented - tagsRead;
  if (misses === 0) return "No tag was missed in a valid pass.";
  const named = missedTags.reduce((sum, { missed }) => sum + missed, 0);
  const unnamed = misses - named;
  const all = counted(misses, "presentation was", "presentations were");
  if (named === 0) return `${all} missed; the logs do not name the tags.`;
  const tags = counted(missedTags.length, "tag", "tags");
  const repeated = missedTags.filter(({ missed }) => missed > 1).length;
  const again =
    repeated === 0
      ? "none of them more than once"
      : repeated === missedTags.length
        ? "each more than once"
        : `${countText(repeated)} of them more than once`;
  const first = `${all} missed, on ${tags}, ${again}.`;
  return unnamed > 0
    ? `${first} ${counted(unnamed, "miss is", "misses are")} on tags that the logs do not name.`
    : first;
}
