import { intervals } from "../../intervals/index.ts";
import { wilson } from "../../intervals/wilson.ts";
import { measures } from "../../measures/index.ts";
import { intervalPhrase } from "../../measures/scales.ts";
import { countText, decimalText, statedPercent } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import type { State } from "../../model/state.ts";
import { criticalValue, wilsonBounds } from "../../statistics/wilson.ts";
import type { PageContext } from "../parts/page.ts";
import { limitOf, printedFigures } from "../words/findings.ts";

/** One finding of the facility, worked out again in steps that a calculator can follow. */
export interface WorkedExample {
  readPoint: { label: string; href: string };
  criterion: string;
  group: string;
  steps: { label: string; text: string }[];
}

/** A finding with what the formula needs. */
interface Workable {
  finding: Finding;
  n: number;
  k: number;
  effective: number;
}

const preferred: State[] = ["met", "undecided", "not-met"];

/**
 * The finding to work out: a rate with misses where there is one, met before undecided before not met, and one whose
 * presentations are not independent. Null where no finding has a rate.
 */
function workable({ findings }: Result): Workable | null {
  const all = findings.flatMap((finding): Workable[] => {
    const { estimate, state } = finding;
    if (estimate.kind !== "rate" || estimate.n === 0 || estimate.effectiveN === null || state === "untested")
      return [];
    return [{ finding, n: estimate.n, k: estimate.k, effective: estimate.effectiveN }];
  });
  const weight = ({ finding, n, k, effective }: Workable) =>
    (k > 0 && k < n ? 0 : 100) + (effective < n ? 0 : 10) + preferred.indexOf(finding.state);
  return all.reduce<Workable | null>(
    (best, one) => (best === null || weight(one) < weight(best) ? one : best),
    null,
  );
}

export function workedExample({ result, names, paths, link }: PageContext): WorkedExample | null {
  const chosen = workable(result);
  if (chosen === null) return null;
  const { finding } = chosen;
  return {
    readPoint: link(names.readPoint(finding.readPoint), paths.readPoint(finding.readPoint)),
    criterion: names.criterion(finding.criterion),
    group: names.group(finding.group),
    steps: stepsOf(chosen, result),
  };
}

function stepsOf({ finding, n, k, effective }: Workable, { basis }: Result): WorkedExample["steps"] {
  const { scale } = measures.get(finding.measure);
  const p = k / n;
  const z = criticalValue(basis.confidence);
  const { lower, upper } = wilsonBounds(p, effective, basis.confidence);
  const stretch = 1 + (z * z) / effective;
  const centre = (p + (z * z) / (2 * effective)) / stretch;
  const half = (z * Math.sqrt((p * (1 - p)) / effective + (z * z) / (4 * effective * effective))) / stretch;
  const confidence = statedPercent(basis.confidence);
  const printed = intervalPhrase(printedFigures(finding, finding.estimate), scale);
  const isWilson = finding.estimate.method === wilson.id;
  const own = isWilson
    ? `Printed, rounded against the claim, in ${scale.unit}: ${printed}.`
    : `This facility uses another interval, ${intervals.get(basis.interval).words.short}, which takes a program; it gives, printed in ${scale.unit}: ${printed}.`;
  const worth =
    effective < n
      ? `Presentations of one pass, or of one tag, are alike. The design effect of this finding is ${decimalText(n / effective, 4)}, so n\u2032 = ${countText(n)} / ${decimalText(n / effective, 4)} = ${decimalText(effective, 2)}.`
      : `Each counts for itself, so n\u2032 = n = ${countText(n)}.`;
  return [
    { label: "Count", text: `${countText(k)} of ${countText(n)}: p = ${decimalText(p, 6)}.` },
    { label: "Effective sample", text: worth },
    { label: "Confidence", text: `${confidence}, two-sided: z = ${decimalText(z, 5)}.` },
    {
      label: "Centre",
      text: `(p + z\u00b2 / 2n\u2032) / (1 + z\u00b2 / n\u2032) = ${decimalText(centre, 5)}.`,
    },
    {
      label: "Half width",
      text: `z \u221a( p(1 \u2212 p) / n\u2032 + z\u00b2 / 4n\u2032\u00b2 ) / (1 + z\u00b2 / n\u2032) = ${decimalText(half, 5)}.`,
    },
    {
      label: "Interval",
      text: `Centre less and plus half width: ${decimalText(lower, 4)} to ${decimalText(upper, 4)}. ${own}`,
    },
    { label: "Verdict", text: `${limitOf(finding)}. ${verdictOf(finding.state)}` },
  ];
}

function verdictOf(state: State): string {
  if (state === "met") return "The whole interval is on the good side: met.";
  if (state === "not-met")
    return "The whole interval is on the wrong side, and so is the exact one: not met.";
  return "The limit is inside the interval: undecided.";
}
