import type { Diagnosis } from "../../model/diagnosis/diagnosis.ts";
import type { Outlier, Why } from "../../model/diagnosis/why.ts";
import { countedInWords, countText, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import { type Column, type Section, tableFigure } from "../parts/figure.ts";
import { countOf } from "../parts/rate-columns.ts";
import { wholePercent } from "../words/evidence.ts";
import { pText } from "../words/figures.ts";
import { missColumns } from "./miss-columns.ts";
import type { WhyContext } from "./why-context.ts";

/** What the map shows in figures: what the misses are due to, what stands out, and whether they came in a run. */
export function pattern(
  { standingOut, runOfPasses }: Why,
  { shares, misses }: { shares: Diagnosis["missShares"]; misses: number },
  { files }: WhyContext,
): Section | null {
  const outliers = [
    ...(standingOut?.tags ?? []).map((one) => ({ what: "tag", ...one })),
    ...(standingOut?.passes ?? []).map((one) => ({ what: "pass", ...one })),
  ];
  const sentences = nonEmpty([
    shares === null ? "" : sharesSentence(shares, misses),
    runOfPasses === null ? "" : runSentence(runOfPasses),
    standingOut !== null && outliers.length === 0
      ? "No single tag and no single pass is shown to be missed more often than chance explains."
      : "",
  ]);
  if (sentences.length === 0 && outliers.length === 0) return null;
  return {
    id: "pattern",
    title: "What the pattern shows",
    sentences,
    tables: outliers.length === 0 ? [] : [outlierTable(outliers, files)],
  };
}

/** With fewer misses the shares say little: our choice. */
const enoughMisses = 10;

function sharesSentence(
  { tags, passes, rest }: NonNullable<Diagnosis["missShares"]>,
  misses: number,
): string {
  const lead =
    misses < enoughMisses
      ? `${sentenceStart(countedInWords(misses, "miss", "misses"))} say little: of their pattern,`
      : "Of the pattern of the misses,";
  return `${lead} ${wholePercent(tags)} goes with particular tags, ${wholePercent(passes)} with particular passes and ${wholePercent(rest)} with neither.`;
}

function runSentence({ run, p, passesWithMisses }: NonNullable<Why["runOfPasses"]>): string {
  return run === null
    ? `No run of passes is shown: random orders often bring the ${countText(passesWithMisses)} passes with misses as near to each other (p ${pText(p)}).`
    : `Misses came in neighbouring passes (p ${pText(p)}): ${run.from} to ${run.to} missed ${countOf({ k: run.missed, n: run.presented })}, the other passes ${countOf({ k: run.elsewhereMissed, n: run.elsewherePresented })}.`;
}

type Row = Outlier & { what: string };

function outlierTable(rows: Row[], files: WhyContext["files"]) {
  const columns: Column<Row>[] = [
    { header: "kind", value: ({ what }) => what },
    {
      header: "name",
      value: ({ id }) => id,
      label: "Tag or pass",
      text: ({ id, what }) => ({ text: id, code: what === "tag" }),
    },
    ...missColumns<Row>(),
  ];
  return tableFigure({
    id: "standing-out",
    caption: "Tags and passes that are missed more often than chance explains.",
    howToRead:
      "Each tag and each pass is held against all others by an exact binomial test. p is how often chance alone shows as much, adjusted for all tests of this read point.",
    columns,
    rows,
    tableCaption: "Tags and passes that stand out",
    mostRows: 40,
    file: files("why-standing-out", "tags and passes that are missed more often than chance explains."),
  });
}
