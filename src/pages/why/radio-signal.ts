import type { Why } from "../../model/diagnosis/why.ts";
import { decimalText, thinSpace } from "../../model/number-words.ts";
import type { Section } from "../parts/figure.ts";
import type { WhyContext } from "./why-context.ts";

/** How the signal changed since the round before, and how much of that the settings account for. */
export function radioSignal(found: Why["radioSignal"], { names }: WhyContext): Section | null {
  if (found === undefined) return null;
  const { before, allowanceDb, changeDb, expectedDb, unexplainedDb, passes, passesBefore } = found;
  const rest =
    unexplainedDb < -allowanceDb
      ? `The ${dB(-unexplainedDb)} that remain are twice what is lost on one way between reader and tags.`
      : `It is not weaker than that by more than ${dB(allowanceDb)}, which is what is worth a look.`;
  return {
    id: "radio-signal",
    title: "Signal against the settings",
    sentences: [
      `Since ${names.round(before)} the signal changed by ${signed(changeDb)} (means over ${passesBefore} and ${passes} passes of their medians); the settings account for ${signed(expectedDb)}: the power once, cable and antenna gain twice. ${rest}`,
    ],
  };
}

const dB = (value: number) => `${decimalText(value, 1)}${thinSpace}dB`;

function signed(value: number): string {
  return `${value > 0.05 ? "+" : ""}${dB(value)}`;
}
