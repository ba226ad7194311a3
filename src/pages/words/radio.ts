import { decimalText, joined, thinSpace } from "../../model/number-words.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import type { Result } from "../../model/result.ts";

const dBmEirp = (level: number) => `${decimalText(level, 1)}${thinSpace}dBm EIRP`;

/** Upwards, so that what is over its limit does not look as if it just met it. */
function settingText({
  eirpDbm,
  limitDbm,
  overByDb,
  conductedDbm,
  conductedLimitDbm,
  source,
}: RadioResult): string {
  const eirp = Math.ceil(eirpDbm! * 10 - 1e-6) / 10;
  const conducted =
    conductedLimitDbm !== null && conductedDbm! > conductedLimitDbm + 1e-9
      ? `, with ${decimalText(conductedDbm!, 1)}${thinSpace}dBm at the antenna where ${decimalText(conductedLimitDbm, 1)}${thinSpace}dBm are allowed`
      : "";
  return `${dBmEirp(eirp)}${conducted}; the limit is ${dBmEirp(limitDbm!)} (${source}), so it is over by ${decimalText(Math.ceil(overByDb! * 10 - 1e-6) / 10, 1)}${thinSpace}dB`;
}

/**
 * What stands first on overview and sheet: a sentence a read point that was set over its limit in any round, with what became of it.
 * Findings and states are as walked.
 */
export function overLimitSentences({ readPoints, rounds }: Pick<Result, "readPoints" | "rounds">): string[] {
  return readPoints.flatMap(({ name, signOffRound, radio = [] }) => {
    const over = radio.filter((one) => one.over);
    if (over.length === 0) return [];
    const titleOf = (id: string) => rounds.find((round) => round.id === id)?.title ?? id;
    const judged = radio.find(({ round }) => round === signOffRound);
    const worst = over.find((one) => one === judged) ?? over.at(-1)!;
    return [
      `${name}, round ${joined(over.map(({ round }) => titleOf(round)))}: ${settingText(worst)}. ${whatNext(judged, titleOf)}`,
    ];
  });
}

function whatNext(judged: RadioResult | undefined, titleOf: (id: string) => string): string {
  if (judged === undefined || judged.eirpDbm === null) return "What the round judged radiates is not known.";
  return judged.over
    ? "The round judged was walked like that: lower the power and walk again."
    : `Put right in round ${titleOf(judged.round)}: ${dBmEirp(judged.eirpDbm)}.`;
}
