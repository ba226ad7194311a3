import { joined, statedNumber, thinSpace } from "../../model/number-words.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import type { Result } from "../../model/result/result.ts";

/** What is radiated is rounded up to hundredths and what is allowed down, so that what is over a limit never looks as if it met it. */
export function atMostText(decibels: number): string {
  return statedNumber(Math.ceil(decibels * 100 - dust) / 100);
}

export function atLeastText(decibels: number): string {
  return statedNumber(Math.floor(decibels * 100 + dust) / 100);
}

const dust = 1e-6;

const eirpText = (level: number) => `${atMostText(level)}${thinSpace}dBm EIRP`;

function settingText({
  eirpDbm,
  limitDbm,
  overByDb,
  conductedDbm,
  conductedLimitDbm,
  source,
}: RadioResult): string {
  const conducted =
    conductedLimitDbm !== null && conductedDbm! > conductedLimitDbm
      ? `, with ${atMostText(conductedDbm!)}${thinSpace}dBm at the antenna where ${atLeastText(conductedLimitDbm)}${thinSpace}dBm are allowed`
      : "";
  return `${eirpText(eirpDbm!)}${conducted}; the limit is ${atLeastText(limitDbm!)}${thinSpace}dBm EIRP (${source}), so it is over by ${atMostText(overByDb!)}${thinSpace}dB`;
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
    : `Put right in round ${titleOf(judged.round)}: ${eirpText(judged.eirpDbm)}.`;
}
