import { bystanderReadRate } from "../../measures/bystander-read-rate.ts";
import { completePassRate } from "../../measures/complete-pass-rate.ts";
import { strayPassRate } from "../../measures/stray-pass-rate.ts";
import { tagReadRate } from "../../measures/tag-read-rate.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { CsvTable, TableFiles } from "../parts/csv.ts";
import { csvTable } from "../parts/csv.ts";
import type { Link } from "../parts/page.ts";
import {
  type NamedTags,
  type PassRow,
  type PlacedPass,
  placeColumns,
  rowWeight,
} from "../passes/pass-rows.ts";
import { type PassTable, passTable } from "../passes/pass-table.ts";
import { includingVoids, rateSentence } from "../words/findings.ts";

export interface PassLists {
  /** `81 passes`, void ones among them. */
  count: string;
  sentence: string;
  table: PassTable;
  /** Where not all passes are listed here; else empty. */
  rest: string;
  strays: { sentence: string; passes: StrayPass[]; rest: string };
  bystanders: string;
  voids: { sentence: string; passes: { link: Link; reason: string }[] };
  /** To a pass's row: on this page where it is listed here. */
  hrefOf: (pass: string) => string;
}

interface StrayPass {
  link: Link;
  strays: NamedTags;
}

/** More passes with strays than this are left to the table as CSV. */
const mostStrayPasses = 60;

/** With everything else a read point page then stays well under a megabyte. */
const mostWeight = 250_000;

/** The passes of the judged round: all of them, or as many as fit of those with a missed tag or a stray. */
export function passLists(
  round: RoundResult,
  all: PassRow[],
  elsewhere: (pass: string) => string,
): PassLists {
  const rows = listed(all);
  const here = new Map(rows.map(({ id, anchor }) => [id, `#${anchor}`]));
  const hrefOf = (pass: string): string => here.get(pass) ?? elsewhere(pass);
  const linkOf = ({ id }: PassRow): Link => ({ label: id, href: hrefOf(id) });
  const heard = round.passList.flatMap((pass, index) => ((pass.strays ?? 0) > 0 ? [all[index]!] : []));
  const moreHeard = heard.length - mostStrayPasses;
  return {
    count: counted(rows.length, "pass", "passes"),
    sentence: round.passList.length === 0 ? "No pass was walked here in this round." : passSentence(round),
    table: passTable(rows),
    rest: rows.length === all.length ? "" : restSentence(rows.length, all.length),
    strays: {
      sentence: straySentence(round),
      passes: heard.slice(0, mostStrayPasses).map((row) => ({ link: linkOf(row), strays: row.strays })),
      rest: moreHeard > 0 ? `The CSV table has ${counted(moreHeard, "more pass", "more passes")}.` : "",
    },
    bystanders: rateSentence(bystanderReadRate, round.bystanderReadRate),
    voids: {
      sentence: voidSentence(round),
      passes: upTo(all.filter(({ voidReason }) => voidReason !== "")).map((row) => ({
        link: linkOf(row),
        reason: row.voidReason,
      })),
    },
    hrefOf,
  };
}

function listed(all: PassRow[]): PassRow[] {
  const kept = upTo(all);
  if (kept.length === all.length) return all;
  return upTo(
    all.filter(
      ({ missed, strays, voidReason }) =>
        voidReason !== "" || missed.words !== "none" || strays.tags.length > 0,
    ),
  );
}

function upTo(rows: PassRow[]): PassRow[] {
  let weight = 0;
  return rows.filter((row) => {
    weight += rowWeight(row);
    return weight <= mostWeight;
  });
}

function restSentence(shown: number, total: number): string {
  return `Of ${countText(total)} passes, ${countText(shown)} are listed here: those that missed a tag, read a stray or are void. The pages of passes and the CSV table have all of them.`;
}

function passSentence(round: RoundResult): string {
  return `${counted(round.passes, "valid pass", "valid passes")}. ${rateSentence(completePassRate, round.completePassRate)}`;
}

function straySentence(round: RoundResult): string {
  if (round.passes === 0) return "No valid pass was walked, so nothing is known about strays.";
  const { n } = round.strayPassRate;
  if (n === 0) return "The logs of this round do not record strays, so nothing is known about them.";
  const left =
    n < round.passes
      ? ` The logs of ${counted(round.passes - n, "further pass", "further passes")} do not record strays.`
      : "";
  return `${rateSentence(strayPassRate, round.strayPassRate)}${left}`;
}

function voidSentence(round: RoundResult): string {
  if (round.voidPasses === 0) return "No pass of this round is void.";
  const { withVoids } = round;
  const without = round.voidPasses === 1 ? "the void pass" : `the ${countText(round.voidPasses)} void passes`;
  return `Without ${without}: ${rateSentence(tagReadRate, round.tagReadRate)} ${includingVoids(round.voidPasses)}: ${rateSentence(tagReadRate, withVoids.tagReadRate)}`;
}

/** The passes with strays, as a file. */
export function straysFile(passes: PlacedPass[], files: TableFiles): CsvTable {
  return csvTable(
    files("strays", "passes in which strays were read."),
    [
      ...placeColumns,
      { header: "void_reason", value: ({ pass }) => pass.voidReason },
      { header: "strays", value: ({ pass }) => pass.strays },
      { header: "stray_tags", value: ({ pass }) => pass.strayTags?.join(" ") ?? null },
    ],
    passes.filter(({ pass }) => (pass.strays ?? 0) > 0),
  );
}

/** The void passes, as a file. */
export function voidsFile(passes: PlacedPass[], files: TableFiles): CsvTable {
  return csvTable(
    files("voids", "void passes and why they do not count."),
    [
      ...placeColumns,
      { header: "void_reason", value: ({ pass }) => pass.voidReason },
      { header: "tags_presented", value: ({ pass }) => pass.tagsPresented },
      { header: "tags_read", value: ({ pass }) => pass.tagsRead },
    ],
    passes.filter(({ pass }) => pass.voidReason !== null),
  );
}
