import { countedInWords, sentenceStart } from "../../model/number-words.ts";
import type { Finding, Result } from "../../model/result.ts";
import { statesWorstFirst } from "../../model/state.ts";
import { worstFirst } from "../finding-rows.ts";
import { facilityPaths, relativeLink } from "../paths.ts";
import { type StateMark, stateMark } from "../state-mark.ts";
import { findingSentence, settleSentence } from "../words/findings.ts";
import { groupText } from "../words/labels.ts";
import { openWalkLine } from "./planned.ts";

interface WayLine {
  /** Null where no finding stands behind the line. */
  mark: StateMark | null;
  label: string;
  href: string;
  /** The criterion and the group. */
  what: string;
  sentences: string;
}

export interface InTheWay {
  lines: WayLine[];
  /** What the lines leave out, or that there is nothing; empty where the lines say it all. */
  rest: string;
}

const most = 5;

/** Findings that are not met, in order of weight: state, then whether conceded, then how far beyond the limit. */
function findingsInTheWay(result: Result): Finding[] {
  const open = worstFirst(result.findings).filter((finding) => finding.state !== "met");
  const conceded = (finding: Finding) => finding.concession !== null && !finding.concession.expired;
  return statesWorstFirst.flatMap((state) => {
    const of = open.filter((finding) => finding.state === state);
    return [...of.filter((finding) => !conceded(finding)), ...of.filter(conceded)];
  });
}

/** What stands in the way of signing, at most five lines. */
export function inTheWay(result: Result, path: string): InTheWay {
  const findings = findingsInTheWay(result);
  const paths = facilityPaths(result);
  const point = (id: string) => ({
    label: result.readPoints.find((entry) => entry.id === id)?.name ?? id,
    href: relativeLink(path, paths.readPoints.get(id) ?? paths.overview),
  });
  const judged = new Set(result.findings.map((finding) => finding.readPoint));
  const lines: WayLine[] = findings.map((finding) => {
    const criterion = result.criteria.find((entry) => entry.id === finding.criterion);
    const group = groupText(finding.group, result.conditions);
    return {
      mark: stateMark(finding.state, finding.concession),
      ...point(finding.readPoint),
      what: [criterion?.title ?? finding.criterion, group].filter((part) => part !== "").join(" \u00b7 "),
      sentences: [findingSentence(finding, criterion), settleSentence(finding)]
        .filter((part) => part !== "")
        .join(" "),
    };
  });
  for (const entry of result.readPoints) {
    if (judged.has(entry.id)) continue;
    lines.push({
      mark: stateMark(entry.state),
      ...point(entry.id),
      what: "No criterion covers this read point",
      sentences: "Nothing was judged here.",
    });
  }
  const walk = openWalkLine(result);
  const planned: WayLine[] =
    walk === null
      ? []
      : [
          {
            mark: null,
            label: "Planned walk",
            href: relativeLink(path, paths.plan),
            what: walk.what,
            sentences: walk.sentence,
          },
        ];
  const room = most - planned.length;
  const rest = lines.length - room;
  return {
    lines: [...lines.slice(0, room), ...planned],
    rest:
      lines.length + planned.length === 0
        ? "No finding stands in the way of signing."
        : rest > 0
          ? `${sentenceStart(countedInWords(rest, "further finding stands", "further findings stand"))} in the way; all are in the pictures below.`
          : "",
  };
}
