import { countedInWords, sentenceStart } from "../../model/number-words.ts";
import type { Finding, Result } from "../../model/result.ts";
import { statesWorstFirst } from "../../model/state.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import { criterionOf } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";
import { type StateMark, stateMark } from "../parts/state-mark.ts";
import { findingSentence, settleSentence } from "../words/findings.ts";
import { openWalkLine } from "./planned.ts";

interface WayLine {
  /** Null for a line that is not a finding. */
  mark: StateMark | null;
  label: string;
  href: string;
  /** The criterion and the group. */
  what: string;
  sentences: string;
}

export interface InTheWay {
  lines: WayLine[];
  /** How many findings are left out, or that none is open; empty where the lines list all of them. */
  rest: string;
}

const most = 5;

/** Findings that are not met, in order of weight: state, then whether conceded, then how far beyond the limit. */
function findingsInTheWay({ findings }: Result): Finding[] {
  const open = worstFirst(findings.filter(({ state }) => state !== "met"));
  const conceded = ({ concession }: Finding) => concession !== null && !concession.expired;
  return statesWorstFirst.flatMap((state) => {
    const alike = open.filter((finding) => finding.state === state);
    return [...alike.filter((finding) => !conceded(finding)), ...alike.filter(conceded)];
  });
}

/** What is still open before sign-off, at most five lines. */
export function inTheWay(here: PageContext): InTheWay {
  const lines = [...findingLines(here), ...unjudgedLines(here)];
  const planned = plannedLines(here);
  const room = most - planned.length;
  const rest = lines.length - room;
  return {
    lines: [...lines.slice(0, room), ...planned],
    rest:
      lines.length + planned.length === 0
        ? "Nothing is open before sign-off."
        : rest > 0
          ? `${sentenceStart(countedInWords(rest, "further finding is", "further findings are"))} open; the pictures below show all of them.`
          : "",
  };
}

function findingLines({ result, names, paths, link }: PageContext): WayLine[] {
  return findingsInTheWay(result).map((finding) => ({
    mark: stateMark(finding.state, finding.concession),
    ...link(names.readPoint(finding.readPoint), paths.readPoint(finding.readPoint)),
    what: [names.criterion(finding.criterion), names.group(finding.group)]
      .filter((part) => part !== "")
      .join(" \u00b7 "),
    sentences: [findingSentence(finding, criterionOf(result, finding.criterion)), settleSentence(finding)]
      .filter((part) => part !== "")
      .join(" "),
  }));
}

function unjudgedLines({ result, paths, link }: PageContext): WayLine[] {
  const judged = new Set(result.findings.map(({ readPoint }) => readPoint));
  return result.readPoints
    .filter(({ id }) => !judged.has(id))
    .map(({ id, name, state }) => ({
      mark: stateMark(state),
      ...link(name, paths.readPoint(id)),
      what: "No criterion covers this read point",
      sentences: "Nothing was judged here.",
    }));
}

function plannedLines({ result, paths, link }: PageContext): WayLine[] {
  const walk = openWalkLine(result);
  if (walk === null) return [];
  return [{ mark: null, ...link("Planned walk", paths.plan), what: walk.what, sentences: walk.sentence }];
}
