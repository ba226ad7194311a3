import { countedInWords, countText, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import type { PlannedRoute } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import type { FacilityContext, Link, PageContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import {
  openCells,
  openSentence,
  plannedPasses,
  settlingAndPlan,
  walkedPasses,
  walkedSentence,
} from "../words/walks.ts";

export interface PlannedView {
  sentence: string;
  /** Why it is another number than what would settle a finding; empty where nothing is to be settled. */
  beside: string;
  page: Link;
  rows: {
    letter: string;
    name: string;
    href: string;
    done: string;
    short: string;
    missing: string;
    passes: string;
  }[];
}

/** Planned against done in a sentence and a small table; null where nothing is planned. */
export function plannedView({ result, names, paths, link, href }: PageContext): PlannedView | null {
  const { plan } = result;
  if (plan === null) return null;
  return {
    sentence: walkedSentence(plan.walks.flatMap(({ cells }) => cells)),
    beside: result.findings.some(({ toSettle }) => toSettle !== null) ? settlingAndPlan : "",
    page: link("How much to walk", paths.plan),
    rows: plan.walks.map(({ readPoint, cells }) => {
      const count = (state: string) => countText(cells.filter((cell) => cell.state === state).length);
      const reachable = cells.every(({ planned }) => planned !== null);
      return {
        letter: planLetter(result.readPoints.findIndex(({ id }) => id === readPoint)),
        name: names.readPoint(readPoint),
        href: href(paths.readPoint(readPoint)),
        done: count("done"),
        short: count("short"),
        missing: count("missing"),
        passes: reachable
          ? `${countText(walkedPasses(cells))} of ${countText(plannedPasses(cells))}`
          : "no number is enough",
      };
    }),
  };
}

/** Read points whose planned walk is not done: a reason not to sign, though it changes no finding. */
export function openWalks({ result, names }: FacilityContext): { name: string; sentence: string }[] {
  return openRoutes(result).map(({ readPoint, cells }) => ({
    name: names.readPoint(readPoint),
    sentence: nonEmpty([walkedSentence(cells), openSentence(cells, result.conditions)]).join(" "),
  }));
}

/** The same in one line, for the list of what is open; null where nothing is planned or all is done. */
export function openWalkLine(result: Result): { what: string; sentence: string } | null {
  const open = openRoutes(result);
  if (open.length === 0) return null;
  const combinations = open.flatMap(({ cells }) => openCells(cells)).length;
  return {
    what: `${sentenceStart(countedInWords(combinations, "planned combination of conditions", "planned combinations of conditions"))} not walked in full`,
    sentence: walkedSentence((result.plan?.walks ?? []).flatMap(({ cells }) => cells)),
  };
}

function openRoutes({ plan }: Result): PlannedRoute[] {
  return (plan?.walks ?? []).filter(({ cells }) => openCells(cells).length > 0);
}
