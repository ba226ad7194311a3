import { type WalkedPlaces, walkedPlaces } from "../../analysis/journey/promise.ts";
import { judgeFacility } from "../../analysis/judge.ts";
import type { Journey } from "../../model/journey/journey.ts";
import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { Problem } from "../../model/problem.ts";
import type { Result } from "../../model/result/result.ts";
import { toolVersion } from "../../site/package/package-folders.ts";
import { problemLines, refusalAdvice } from "../lines/problem-lines.ts";
import { type Progress, progressOn, type Source, type Terminal } from "../lines/terminal.ts";
import { readAll } from "./read-all.ts";

/** At least one input has an error, so no verdict may be given; carries every problem found, warnings too. */
export class InputRefused extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]) {
    super("The inputs have errors.");
    this.problems = problems;
  }
}

/** What the commands show: facilities and the journeys over them. */
export interface Judged {
  facilities: Result[];
  journeys: JourneyResult[];
  /** On what --only leaves out; warnings only. */
  remarks: Problem[];
}

/** What comes of judging besides the results of the facilities. */
interface JudgedBesides {
  /** Takes the journeys that will be judged, before the first facility is. */
  onStart?(journeys: Journey[]): void;
  /** Takes each journey once it is judged, after the facilities. */
  onJourney?(result: JourneyResult): void;
  /** Takes the problems of what is left out, all of them warnings. */
  onRemark?(problems: Problem[]): void;
}

/**
 * Judges the facilities one after the other, then the journeys. After the first that has an error nothing more is judged, but the rest
 * are still read, so that InputRefused, thrown at the end, holds every problem there is.
 */
export async function* judgeAll(
  source: Source,
  progress: Progress,
  { onStart = () => {}, onJourney = () => {}, onRemark = () => {} }: JudgedBesides = {},
): AsyncGenerator<Result> {
  const problems: Problem[] = [];
  const walked = new Map<string, WalkedPlaces>();
  let refused = false;
  for await (const read of readAll(source, progress, onStart)) {
    problems.push(...read.problems);
    if (read.input === null) {
      if (read.hidden && read.problems.every(({ severity }) => severity === "warning"))
        onRemark(read.problems);
      else refused = true;
    } else if (refused) continue;
    else if (read.kind === "journey") {
      const { judgeJourney } = await import("../../analysis/journey/judge-journey.ts");
      onJourney(judgeJourney(read.input, { walked, version: toolVersion }));
    } else if (read.kind === "facility") {
      const result = judgeFacility(read.input, toolVersion);
      walked.set(result.facility.id, walkedPlaces(result));
      if (!read.hidden) yield result;
    }
  }
  if (refused) throw new InputRefused(problems);
}

/** What was judged; null where an input has an error, once every problem is told and what came of it. */
export async function judgedResults(
  source: Source,
  outcome: Parameters<typeof refusalAdvice>[1],
  terminal: Terminal,
): Promise<Judged | null> {
  const progress = progressOn(terminal);
  const judged: Judged = { facilities: [], journeys: [], remarks: [] };
  try {
    const results = judgeAll(source, progress, {
      onJourney: (journey) => judged.journeys.push(journey),
      onRemark: (problems) => judged.remarks.push(...problems),
    });
    for await (const result of results) judged.facilities.push(result);
  } catch (refusal) {
    progress.done();
    if (!(refusal instanceof InputRefused)) throw refusal;
    terminal.err(problemLines(refusal.problems, source.data));
    terminal.err(refusalAdvice(refusal.problems, outcome));
    return null;
  }
  progress.done();
  return judged;
}
