import { countedLags } from "../../model/journey/outcomes.ts";
import { counted, countText, statedPercent } from "../../model/number-words.ts";
import type { Evidence } from "../evidence/evidence.ts";
import { levelEvidence } from "../evidence/levels.ts";
import { type JourneyMeasure, type Parameters, runUnit } from "../measure.ts";
import { quantileNeeds, quantileOf } from "../quantile.ts";
import { seconds, withUnit } from "../scales.ts";

/** A quantile of how long it took until the site knew of a sighting, in seconds. Sightings that do not tell it are left out. */
export const sightingLagQuantile: JourneyMeasure = {
  id: "sighting-lag-quantile",
  title: "Time until the site knows",
  unit: { one: "sighting", many: "sightings" },
  walked: runUnit,
  scale: seconds,
  usualSense: "at-most",
  byLeg: "possible",
  criterion: quantileNeeds({
    measure: "sighting-lag-quantile",
    example: 0.95,
    means: "which 95 % of sightings keep to",
  }),
  collect: (selection, criterion) => {
    const { seconds, rows, tags } = countedLags(selection);
    const runs = new Set([...rows].map((row) => selection.outcomes.run[row]!));
    return evidenceOf(Array.from(seconds), criterion, { passes: runs.size, tags: tags.size });
  },
  words: {
    count: (_k, n) => counted(n, "sighting", "sightings"),
    shortCount: (_k, n) => countText(n),
    fault: "one known too late",
    nothingCounted: () => "no sighting tells when the site knew of it",
    countsIf: "with a sighting that tells when the site knew of it (known_at)",
    figure: ({ value }, criterion) => {
      const quantile = quantileOf(criterion);
      const share = quantile === null ? "The required share" : statedPercent(quantile);
      return `${share} of sightings are known within ${withUnit(value, seconds)}`;
    },
  },
  plan: {
    trials: "sightings",
    fewest: (faults, criterion, basis) => {
      const beyond = criterion.sense === "at-most" ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
      const values = new Array<number>(faults).fill(beyond);
      const further = evidenceOf(values, criterion, { passes: 0, tags: 0 }).further(criterion, basis);
      return further === null ? null : faults + further;
    },
    withoutExpected: "The chance depends on how the delays are spread, which no plan tells.",
  },
  method: {
    counts:
      "seconds from each sighting until the site knew of it, and of these the value that a stated share lies at or below",
    of: "sightings of items and carriers that tell when the site knew",
  },
};

function evidenceOf(
  values: number[],
  criterion: Parameters,
  { passes, tags }: { passes: number; tags: number },
): Evidence {
  return levelEvidence({
    levels: { censored: 0, values },
    quantile: quantileOf(criterion) ?? 0.95,
    passes,
    tags: () => tags || null,
    remarks: [],
  });
}
