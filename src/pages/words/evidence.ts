import { rounded } from "../../measures/rounding.ts";
import type { Suggestion } from "../../model/diagnosis/diagnosis.ts";
import { countText, thinSpace } from "../../model/number-words.ts";
import { pText } from "./figures.ts";

/** One end of a ratio, rounded outwards: `0.41`, `3.1`, `12`. */
export function ratioEnd(value: number, direction: "down" | "up"): string {
  return rounded(value, value < 0.95 ? 2 : value < 9.95 ? 1 : 0, direction);
}

/** `3.1 to 9.4 times as often`; `at least 3.1 times as often` without an upper end. */
export function timesAsOften([lower, upper]: readonly [number, number | null]): string {
  const least = ratioEnd(lower, "down");
  return upper === null
    ? `at least ${least} times as often`
    : `${least} to ${ratioEnd(upper, "up")} times as often`;
}

/** A share as a whole percentage. */
export function shareText(share: number): string {
  return `${rounded(share * 100, 0, "nearest")}${thinSpace}%`;
}

/** `31 of 118 missed, elsewhere 18 of 1062; 3.1 to 9.4 times as often; p 0.0001`; says where the logs state it as a fact. */
export function evidenceText({ evidence }: Suggestion): string {
  const { missed, presented, elsewhereMissed, elsewherePresented, ratio, p } = evidence;
  const of = (k: number, n: number) => `${countText(k)} of ${countText(n)}`;
  const parts = [
    missed === null || presented === null ? "" : `${of(missed, presented)} missed`,
    elsewhereMissed === null || elsewherePresented === null
      ? ""
      : `elsewhere ${of(elsewhereMissed, elsewherePresented)}`,
    ratio === null ? "" : timesAsOften(ratio),
    p === null ? "stated by the logs" : `p ${pText(p)}`,
  ];
  return parts.filter((part) => part !== "").join("; ");
}
