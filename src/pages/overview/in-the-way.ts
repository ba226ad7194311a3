import { countedInWords, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { byState, statesWorstFirst } from "../../model/state.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import { criterionOf } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";
import { type StateMark, shownConcession, stateMark } from "../parts/state-mark.ts";
import { findingSentence, settleBriefly } from "../words/findings.ts";
import { openWalkLine } from "./planned.ts";

interface WayLine {
  /** Null for a line that is not a read point. */
  mark: StateMark | null;
  label: string;
  href: string;
  /** The criterion and the group. */
  what: string;
  sentences: string;
}

export interface InTheWay {
  lines: WayLine[];
  /** How many read points are left out, or that none is open; empty where the lines list all of them. */
  rest: string;
}

const most = 5;

/** A read point with its findings that are not met, in order of weight. */
interface OpenPoint {
  point: ReadPointResult;
  findings: Finding[];
}

/** State, then whether conceded, then how far beyond the limit. */
function byWeight(findings: Finding[]): Finding[] {
  const open = worstFirst(findings);
  const conceded = ({ concession }: Finding) => concession !== null && !concession.expired;
  return statesWorstFirst.flatMap((state) => {
    const alike = open.filter((finding) => finding.state === state);
    return [...alike.filter((finding) => !conceded(finding)), ...alike.filter(conceded)];
  });
}

/** The read points that do not meet their criteria, worst first. */
function openPoints({ readPoints, findings }: Result): OpenPoint[] {
  return readPoints
    .filter(({ state }) => state !== "met")
    .map((point) => ({
      point,
      findings: byWeight(
        findings.filter(({ readPoint, state }) => readPoint === point.id && state !== "met"),
      ),
    }))
    .sort((a, b) => byState(a.point.state, b.point.state));
}

/** What is still open before sign-off: a line a read point, at most five. */
export function inTheWay(here: PageContext): InTheWay {
  const lines = openPoints(here.result).map((open) => pointLine(open, here));
  const planned = plannedLines(here);
  const room = most - planned.length;
  const rest = lines.length - room;
  return {
    lines: [...lines.slice(0, room), ...planned],
    rest:
      lines.length + planned.length === 0
        ? "Nothing is open before sign-off."
        : rest > 0
          ? `${sentenceStart(countedInWords(rest, "further read point is", "further read points are"))} open; the table of read points below has all of them.`
          : "",
  };
}

function pointLine(
  { point, findings: [worst, ...others] }: OpenPoint,
  { result, names, paths, link }: PageContext,
): WayLine {
  const to = link(point.name, paths.readPoint(point.id));
  if (worst === undefined)
    return {
      mark: stateMark(point.state),
      ...to,
      what: "No criterion covers this read point",
      sentences: "Nothing was judged here.",
    };
  return {
    mark: stateMark(worst.state, shownConcession(worst)),
    ...to,
    what: nonEmpty([names.criterion(worst.criterion), names.group(worst.group)]).join(" \u00b7 "),
    sentences: nonEmpty([
      findingSentence(worst, criterionOf(result, worst.criterion)),
      settleBriefly(worst),
      others.length === 0
        ? ""
        : `${sentenceStart(countedInWords(others.length, "more finding is", "more findings are"))} open here.`,
    ]).join(" "),
  };
}

function plannedLines({ result, paths, link }: PageContext): WayLine[] {
  const walk = openWalkLine(result);
  if (walk === null) return [];
  return [{ mark: null, ...link("Planned walk", paths.plan), what: walk.what, sentences: walk.sentence }];
}
