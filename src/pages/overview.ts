import { countedInWords, joined, sentenceStart } from "../model/number-words.ts";
import type { Result } from "../model/result.ts";
import { statesWorstFirst } from "../model/state.ts";
import { cautions, cautionsDefer } from "./cautions.ts";
import { findingFigures } from "./finding-rows.ts";
import {
  concessionRows,
  concessionSentence,
  openPointRows,
  openPointSentence,
} from "./overview/agreements.ts";
import { evidence } from "./overview/evidence.ts";
import { inTheWay } from "./overview/in-the-way.ts";
import { plannedView } from "./overview/planned.ts";
import { planPoints, readPointKeys } from "./overview/read-point-key.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import { floorPlanPicture } from "./pictures/floor-plan.ts";

import { stateWord, verdictSentence } from "./words/verdicts.ts";

/** The facility's first page: the verdict, what stands in the way, the evidence for both. */
export function overviewPage(result: Result): Page {
  const paths = facilityPaths(result);
  const path = paths.overview;
  const link = (label: string, to: string) => ({ label, href: relativeLink(path, to) });
  return facilityPage(result, "overview", path, result.facility.name, {
    verdict: verdictSentence(result),
    address: result.facility.address ?? "",
    way: inTheWay(result, path),
    figures: findingFigures(result, result.findings, { path, id: "findings", named: "read-point" }),
    noFindings: result.findings.length === 0 ? "No criterion is stated, so there is nothing to show." : "",
    plan: plan(result),
    planned: plannedView(result, path),
    readPoints: readPointKeys(result, path),
    openPointSentence: openPointSentence(result),
    openPoints: openPointRows(result),
    concessionSentence: concessionSentence(result),
    concessions: concessionRows(result),
    cautions,
    cautionsDefer,
    remarks: remarks(result),
    evidence: evidence(result),
    downloads: [
      link("findings.csv", paths.table("findings")),
      link("rounds.csv", paths.table("rounds")),
      link("result.json", paths.result),
    ],
    sheet: link("the sign-off sheet", paths.signOffSheet),
    inputs: link("Inputs", paths.inputs),
    roundsTable: link("rounds.csv", paths.table("rounds")),
  });
}

function plan(result: Result): { picture: string; caption: string } | null {
  const points = planPoints(result);
  const placed = points.filter((point) => point.at !== null);
  if (placed.length === 0) return null;
  const nowhere = points.filter((point) => point.at === null).map((point) => point.letter);
  const states = placed.map((point) => `${point.letter} ${stateWord(point.state)}`).join(", ");
  const missing =
    nowhere.length === 0
      ? ""
      : ` ${joined(nowhere)} ${nowhere.length === 1 ? "has" : "have"} no place on the plan.`;
  return {
    picture: floorPlanPicture({
      id: "plan",
      title: `Plan of ${result.facility.name} with its read points`,
      description: `Read points by letter and state: ${states}.`,
      plan: result.facility.floorPlan,
      points,
    }),
    caption: `${lettersByState(placed)}${missing} The table below is the key.`,
  };
}

/** `Not met at E, untested at C, undecided at B, met at A, D and F.` */
function lettersByState(points: ReturnType<typeof planPoints>): string {
  const parts = statesWorstFirst.flatMap((state) => {
    const letters = points.filter((point) => point.state === state).map((point) => point.letter);
    return letters.length === 0 ? [] : [`${stateWord(state)} at ${joined(letters)}`];
  });
  return `${sentenceStart(parts.join(", "))}.`;
}

function remarks({ problems }: Result): string {
  if (problems.length === 0) return "Nothing in the logs calls for a remark.";
  const count = countedInWords(problems.length, "remark on the logs is", "remarks on the logs are");
  return `${sentenceStart(count)} listed there.`;
}
