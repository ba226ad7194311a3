import { placeholderUnchanged } from "../../intake/problems/yaml.ts";
import { countedInWords, countWord, joined, nonEmpty } from "../../model/number-words.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { dateText } from "./dates.ts";

/** What the evidence supports at a read point: signing, signing on the terms of its concessions, or not signing yet. */
type Support = "yes" | "conceded" | "not yet";

function openFindings({ findings }: Pick<Result, "findings">, { id }: Pick<ReadPointResult, "id">) {
  return findings.filter(({ readPoint, state }) => readPoint === id && state !== "met");
}

function supportOf(result: Pick<Result, "findings">, point: ReadPointResult): Support {
  if (point.state === "met") return "yes";
  const open = openFindings(result, point);
  const conceded = open.every(({ concession }) => concession !== null && !concession.expired);
  return open.length > 0 && conceded ? "conceded" : "not yet";
}

/**
 * The answer to "may we sign, for which read points, on what conditions?" in one line. The evidence supports, people decide.
 *
 * `The evidence supports signing for Dock door 1 and Encoding desk; not yet for Dock door 2. Two points are still open.`
 */
export function signingSentence(
  result: Pick<Result, "findings" | "readPoints" | "openPoints" | "criteria" | "problems">,
): string {
  const { readPoints, criteria, problems } = result;
  if (readPoints.length === 0 || criteria.length === 0) return "There is nothing to sign yet.";
  const kinds = readPoints.map((point) => ({ point, support: supportOf(result, point) }));
  const of = (kind: Support) => kinds.filter(({ support }) => support === kind).map(({ point }) => point);
  const [yes, conceded, notYet] = [of("yes"), of("conceded"), of("not yet")];
  const parts = [
    ...(yes.length === 0 ? [] : [`for ${namesOf(yes, readPoints.length)}`]),
    ...(conceded.length === 0
      ? []
      : [`on the terms of concessions for ${joined(conceded.map((point) => concededName(result, point)))}`]),
  ];
  const later =
    notYet.length === 0 || parts.length === 0 ? "" : `; not yet for ${namesOf(notYet, readPoints.length)}`;
  const signing =
    parts.length === 0
      ? "The evidence supports signing for no read point yet"
      : `The evidence supports signing ${joined(parts)}${later}`;
  return nonEmpty([`${signing}.`, unfilledSentence(problems), openPointsSentence(result)]).join(" ");
}

function namesOf(points: ReadPointResult[], total: number): string {
  if (points.length === total) return total === 1 ? "the read point" : `all ${countWord(total)} read points`;
  return joined(points.map(({ name }) => name));
}

/** `Dock door 2 (until 31 August 2026)`, with the first date at which one of its concessions ends. */
function concededName(result: Pick<Result, "findings">, point: ReadPointResult): string {
  const [first] = openFindings(result, point)
    .flatMap(({ concession }) => concession?.until ?? [])
    .sort();
  return first === undefined ? point.name : `${point.name} (until ${dateText(first)})`;
}

function unfilledSentence(problems: Result["problems"]): string {
  const left = problems.filter(({ code }) => code === placeholderUnchanged.code).length;
  return left === 0
    ? ""
    : `Before anybody signs, ${countedInWords(left, "placeholder", "placeholders")} in facility.yaml must be filled in.`;
}

function openPointsSentence({ openPoints }: Pick<Result, "openPoints">): string {
  const open = openPoints.filter(({ closed }) => closed === null).length;
  if (open === 0) return "";
  const [many, verb] = [countedInWords(open, "point", "points"), open === 1 ? "is" : "are"];
  return `${many.slice(0, 1).toUpperCase()}${many.slice(1)} on the list below ${verb} still open.`;
}
