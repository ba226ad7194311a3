import { runUnit } from "../../measures/measure.ts";
import type { JourneyFinding } from "../../model/journey/journey-result.ts";
import { countedInWords, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { CsvTable } from "../parts/csv.ts";
import { type Column, fileOf } from "../parts/figure.ts";
import { type FindingName, findingColumns } from "../parts/finding-columns.ts";
import { type FindingFigure, namedFindingFigures } from "../parts/finding-figures.ts";
import type { JourneyContext, JourneyHere } from "./journey-context.ts";

/** The leg that a finding is about; null where it is about the journey as a whole. */
export function legOf({ group }: Pick<JourneyFinding, "group">): string | null {
  return group?.leg ?? null;
}

/** A finding with its leg in the place of the read point, as tables and pictures of findings take them. */
export function placedFinding(finding: JourneyFinding): Finding {
  return { ...finding, readPoint: legOf(finding) ?? "" };
}

/** The leg, else the journey: the name of the place that a finding is about. */
export function placeName({ names }: Pick<JourneyContext, "names">, id: string): string {
  return id === "" ? "Whole journey" : names.leg(id);
}

function columnsOf(journey: JourneyContext): { name: FindingName; columns: Column<Finding>[] } {
  const { result, names } = journey;
  const readPoint = (id: string) => placeName(journey, id);
  const name: FindingName = {
    label: ({ criterion }) => names.criterion(criterion),
    detail: (finding) => readPoint(finding.readPoint),
  };
  return { name, columns: findingColumns({ result, names: { readPoint }, walked: runUnit }, name) };
}

export function findingsTable(journey: JourneyContext): CsvTable {
  return fileOf(
    {
      name: "findings",
      holds: "Every finding: state, limit, k, n, estimate and bounds, what would settle it, remarks.",
    },
    columnsOf(journey).columns,
    journey.result.findings.map(placedFinding),
  );
}

/** What is open stands in the open, what is met is folded. */
export function journeyFindings(here: JourneyHere): {
  figures: FindingFigure[];
  met: { summary: string; figures: FindingFigure[] };
} {
  const { findings, basis } = here.result;
  const figures = (some: JourneyFinding[], prefix: string) =>
    namedFindingFigures(some.map(placedFinding), {
      prefix,
      ...columnsOf(here),
      confidence: basis.confidence,
      downloads: [here.tableLink("findings")],
    });
  const met = findings.filter(({ state }) => state === "met");
  return {
    figures: figures(
      findings.filter(({ state }) => state !== "met"),
      "findings",
    ),
    met: {
      summary: sentenceStart(countedInWords(met.length, "finding is met", "findings are met")),
      figures: figures(met, "met"),
    },
  };
}
