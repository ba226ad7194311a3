import { countedInWords, countWord, joined } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import type { PageContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import { stateWord } from "../words/verdicts.ts";

/** The read points that a sheet is for, as a result that holds no others. */
export interface SheetScope extends PageContext {
  /** The letter of a read point on the plan, which counts all of them. */
  letterOf(readPoint: string): string;
}

export function sheetScope(here: PageContext): SheetScope {
  const all = here.result.readPoints.map(({ id }) => id);
  return { ...here, result: signedPart(here.result), letterOf: (id) => planLetter(all.indexOf(id)) };
}

function signedPart(result: Result): Result {
  const { signOff } = result;
  if (signOff === null) return result;
  const isSigned = ({ readPoint }: { readPoint: string | null }) =>
    readPoint !== null && signOff.readPoints.includes(readPoint);
  return {
    ...result,
    readPoints: result.readPoints.filter(({ id }) => isSigned({ readPoint: id })),
    findings: result.findings.filter(isSigned),
    comparisons: result.comparisons.filter(isSigned),
    plan: result.plan === null ? null : { ...result.plan, walks: result.plan.walks.filter(isSigned) },
    concessions: result.concessions.filter(isSigned),
    openPoints: result.openPoints.filter((point) => point.readPoint === null || isSigned(point)),
    otherwise: signOff.otherwise,
  };
}

/** Which read points a sheet for some of them is for, and which it leaves out; empty for one that is for all. */
export function scopeSentence({ signOff, readPoints }: Result): string {
  if (signOff === null) return "";
  const signed = readPoints.filter(({ id }) => signOff.readPoints.includes(id));
  const left = readPoints.filter((point) => !signed.includes(point));
  const of = `${countWord(signed.length)} of ${countedInWords(readPoints.length, "read point", "read points")}`;
  const out = joined(left.map(({ name, state }) => `${name} (${stateWord(state)})`));
  return `This sheet is for ${of}: ${joined(signed.map(({ name }) => name))}. It leaves out ${out}: signing accepts nothing of ${left.length === 1 ? "that one" : "those"}.`;
}
