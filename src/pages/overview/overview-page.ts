import { counted, countedInWords, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import { causesOf } from "../../model/problem.ts";
import type { Result } from "../../model/result/result.ts";
import { type Cautions, cautionsView } from "../parts/cautions.ts";
import type { CsvTable } from "../parts/csv.ts";
import { fileOf } from "../parts/figure.ts";
import { groupCell } from "../parts/finding-columns.ts";
import { type FindingFigure, findingFigures, findingsFile } from "../parts/finding-figures.ts";
import { definePage, type FacilityContext, type Link, type PageContext } from "../parts/page.ts";
import { type ShownPicture, shownPictures } from "../record/pictures.ts";
import {
  correlationSentence,
  roundsSentence,
  stricterSentence,
  togetherSentences,
  unseenSummary,
} from "../words/promises.ts";
import { overLimitSentences } from "../words/radio.ts";
import { signingSentence } from "../words/signing.ts";
import { verdictSentence } from "../words/verdicts.ts";
import { type Agreements, agreements } from "./agreements.ts";
import { type InTheWay, inTheWay } from "./in-the-way.ts";
import { type PlannedView, plannedView } from "./planned.ts";
import { type FloorPlanView, floorPlanView, type ReadPointRow, readPointRows } from "./read-points.ts";

export interface OverviewView extends Agreements, Cautions {
  /** Read points that were set to radiate more than their limit allows: nobody should sign past that. */
  overLimit: string[];
  verdict: string;
  /** Whether the evidence supports signing, for which read points, on what conditions. */
  signing: string;
  way: InTheWay;
  figures: FindingFigure[];
  /** Findings that are met, folded. */
  met: { summary: string; figures: FindingFigure[] };
  noFindings: string;
  /** What the states promise, and what they do not. */
  promises: string[];
  method: Link;
  plan: FloorPlanView | null;
  planned: PlannedView | null;
  readPoints: ReadPointRow[];
  /** Of the open points, folded. */
  photographs: { summary: string; pictures: ShownPicture[] };
  /** How many files and rows it is made from, and how many remarks there are on them. */
  evidence: string;
  downloads: Link[];
  sheet: Link;
}

/** The facility's first page: the verdict, what is still open, and the evidence for both. */
export const overviewPage = definePage({
  template: "overview",
  navigation: "Overview",
  pages: (facility) => [
    {
      path: facility.paths.overview,
      title: facility.result.facility.name,
      subject: facility.result,
      tables: [findings(facility), assumedCorrelation(facility.result)],
    },
  ],
  view: (here, result): OverviewView => ({
    overLimit: overLimitSentences(result),
    verdict: verdictSentence(result),
    signing: signingSentence(result),
    way: inTheWay(here),
    ...findingsInTwo(here, result),
    noFindings: result.findings.length === 0 ? "No criterion is stated, so there are no findings." : "",
    promises: promises(here),
    method: { label: "How each number is made", href: `${here.href(here.paths.method)}#many` },
    plan: floorPlanView(here),
    planned: plannedView(here),
    readPoints: readPointRows(here),
    ...agreements(here),
    ...cautionsView,
    photographs: openPointPictures(here),
    evidence: `${madeFrom(result)} ${remarks(result)}`,
    downloads: [
      here.tableLink("findings"),
      here.tableLink("rounds"),
      here.link("result.json", here.paths.result),
    ],
    sheet: here.link("the sign-off sheet", here.paths.signOffSheet),
  }),
});

/** What is open stands in the open, what is met is folded. */
function findingsInTwo(here: PageContext, { findings }: Result): Pick<OverviewView, "figures" | "met"> {
  const met = findings.filter(({ state }) => state === "met");
  const open = findings.filter(({ state }) => state !== "met");
  return {
    figures: findingFigures(here, open),
    met: {
      summary: sentenceStart(countedInWords(met.length, "finding is met", "findings are met")),
      figures: findingFigures(here, met, "met"),
    },
  };
}

function openPointPictures(here: PageContext): OverviewView["photographs"] {
  const pictures = shownPictures(here, ({ openPoint }) => openPoint !== null);
  const count = countedInWords(pictures.length, "photograph or drawing", "photographs and drawings");
  return { summary: sentenceStart(`${count} of the open points`), pictures };
}

function promises({ result, names }: PageContext): string[] {
  return nonEmpty([
    togetherSentences(result).join(" "),
    roundsSentence(result),
    nonEmpty([stricterSentence(result, names) ?? "", correlationSentence(result)]).join(" "),
    unseenSummary(result),
  ]);
}

function findings(facility: FacilityContext): CsvTable {
  return findingsFile(facility, facility.result.findings, {
    name: "findings",
    holds:
      "Every finding: state, limit, k, n, estimate and bounds, what would settle it, concession, remarks.",
  });
}

function assumedCorrelation({ basis, findings }: Result): CsvTable {
  const rows = findings.flatMap((finding) => {
    const { estimate, state, sensitivity } = finding;
    if (sensitivity.length === 0) return [];
    const others = sensitivity.filter(({ missCorrelation }) => missCorrelation !== basis.missCorrelation);
    return [{ ...estimate, missCorrelation: basis.missCorrelation, state }, ...others]
      .sort((a, b) => a.missCorrelation - b.missCorrelation)
      .map((assumed) => ({ finding, assumed }));
  });
  return fileOf(
    {
      name: "assumed-correlation",
      holds: "Every finding under the assumed correlation in use, and under others.",
    },
    [
      { header: "criterion", value: ({ finding }) => finding.criterion },
      { header: "read_point", value: ({ finding }) => finding.readPoint },
      { header: "group", value: ({ finding }) => groupCell(finding.group) },
      { header: "miss_correlation", value: ({ assumed }) => assumed.missCorrelation },
      { header: "lower_fraction", value: ({ assumed }) => assumed.lower },
      { header: "upper_fraction", value: ({ assumed }) => assumed.upper },
      { header: "effective_n", value: ({ assumed }) => assumed.effectiveN },
      { header: "state", value: ({ assumed }) => assumed.state },
    ],
    rows,
  );
}

function remarks({ problems }: Result): string {
  if (problems.length === 0) return "There are no remarks on the logs.";
  const causes = causesOf(problems).length;
  const count = countedInWords(causes, "remark on the logs is", "remarks on the logs are");
  return `${sentenceStart(count)} listed under Inputs.`;
}

function madeFrom({ inputs }: Result): string {
  const rows = inputs.reduce((sum, input) => sum + (input.rows ?? 0), 0);
  return `Made from ${counted(inputs.length, "file", "files")} with ${counted(rows, "row", "rows")}.`;
}
