import { chanceOfFaults } from "../../src/measures/evidence/rates.ts";
import { clusterSums } from "../../src/statistics/effective-sample.ts";
import type { FacilityFacts, StatedCriterion } from "./facility-facts.ts";
import { type Interval, ofPasses, ofPresentations } from "./independent-interval.ts";
import { orderBounds, quantile } from "./independent-quantile.ts";
import {
  aboutPasses,
  binomialOrMore,
  furtherCompletePasses,
  furtherPresentations,
  furtherSilentPasses,
  furtherStrongReads,
} from "./independent-settling.ts";
import type { Claim } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import * as recount from "./recount.ts";

/** One finding as this test counts it. */
export interface JudgedFinding {
  title: string;
  /** The orientation, where the criterion must hold for each. */
  group: string | null;
  measure: string;
  claim: Claim;
  limit: number;
  quantile: number | null;
  passes: number;
  /** Different tags that were presented, or placed as bystanders, in what is counted. */
  tags: number;
  count: recount.Count;
  interval: Interval;
  /** The same with void passes counted in, where a void pass has a matching row. */
  withVoids: { voids: number; count: recount.Count; interval: Interval } | null;
  /**
   * How many more of its unit would settle it, and in about how many passes; on the wrong side of the limit, the chance of as
   * many faults at the limit.
   */
  toSettle: { further: number; passes: number | null; chance: number | null };
}

type Rows = RawRow[];
type Measure = { count: (rows: Rows) => recount.Count; interval: (count: recount.Count) => Interval };

const measures: Record<string, Measure> = {
  "tag-read-rate": { count: recount.tagsRead, interval: ofPresentations },
  "bystander-read-rate": { count: recount.bystandersRead, interval: ofPresentations },
  "complete-pass-rate": { count: recount.completePasses, interval: ofPasses },
  "stray-pass-rate": { count: recount.strayPasses, interval: ofPasses },
};

/** Every finding of facility.yaml over the rows of the round judged. All of them must be undecided, or this throws. */
export function judgedFindings(facts: FacilityFacts, rows: Rows): JudgedFinding[] {
  return facts.criteria.flatMap((criterion) => {
    const groups = criterion.for_each ? [...new Set(rows.map(({ orientation }) => orientation))] : [null];
    return groups.map((group) => judged(criterion, group, rows));
  });
}

function judged(criterion: StatedCriterion, group: string | null, all: Rows): JudgedFinding {
  const rows = all.filter(
    (row) =>
      (group === null || row.orientation === group) &&
      (criterion.where === undefined || row.speed <= criterion.where.speed_m_s.to),
  );
  const { count: countOf, interval: intervalOf } = measureOf(criterion);
  const voids = recount.voidPasses(all);
  const valid = rows.filter(({ pass }) => !voids.includes(pass));
  const spoiled = rows.filter(({ pass }) => voids.includes(pass));
  const count = countOf(valid);
  const interval = intervalOf(count);
  const limit = (criterion.at_least ?? criterion.at_most)!;
  if (interval.lower >= limit || interval.upper <= limit) throw new Error(`${criterion.id} is not undecided`);
  const whole = countOf(rows);
  const withVoids =
    whole.n === count.n
      ? null
      : { voids: recount.passesOf(spoiled).length, count: whole, interval: intervalOf(whole) };
  const passes = recount.passesOf(
    criterion.measure === "stray-pass-rate" ? valid : countedRows(criterion, valid),
  );
  const finding = {
    title: criterion.title,
    group,
    measure: criterion.measure,
    claim: criterion.at_least === undefined ? ("at most" as const) : ("at least" as const),
    limit,
    quantile: criterion.quantile ?? null,
    passes: passes.length,
    tags: new Set(countedRows(criterion, valid).map(({ tag }) => tag)).size,
    count,
    interval,
    withVoids,
  };
  return { ...finding, toSettle: settling(finding) };
}

/** Passes count where they hold a row that the measure counts. */
function countedRows(criterion: StatedCriterion, rows: Rows): Rows {
  return criterion.measure === "bystander-read-rate" ? recount.bystanders(rows) : recount.presented(rows);
}

function measureOf(criterion: StatedCriterion): Measure {
  if (criterion.measure !== "rssi-quantile") return measures[criterion.measure]!;
  return {
    count: recount.tagsRead,
    interval: ({ rows }) => {
      const ranks = recount.signalRanks(rows);
      return { value: quantile(ranks, criterion.quantile!), ...orderBounds(ranks, criterion.quantile!) };
    },
  };
}

function settling(finding: Omit<JudgedFinding, "toSettle">): JudgedFinding["toSettle"] {
  const { measure, claim, limit, interval, count, passes } = finding;
  const wrongSide = claim === "at least" ? interval.value <= limit : interval.value >= limit;
  const chance = wrongSide ? chanceAtLimit(finding) : null;
  if (measure === "stray-pass-rate")
    return { further: furtherSilentPasses(count, limit), passes: null, chance };
  if (measure === "complete-pass-rate")
    return { further: furtherCompletePasses(count, limit), passes: null, chance };
  const further =
    measure === "rssi-quantile"
      ? furtherStrongReads(recount.signalRanks(count.rows), finding.quantile!, limit)
      : furtherPresentations(count, limit, claim);
  return { further, passes: aboutPasses(further, count.n, passes), chance };
}

/** Presentations that share passes or tags by the analysis itself, whose tails have tests of their own. */
function chanceAtLimit(finding: Omit<JudgedFinding, "toSettle">): number {
  const { measure, claim, limit, count } = finding;
  if (measure === "rssi-quantile") {
    const below = recount.signalRanks(count.rows).filter((level) => level < limit).length;
    return binomialOrMore(below, count.n, finding.quantile!);
  }
  const faults = claim === "at least" ? count.n - count.k : count.k;
  if (count.rows.length === 0)
    return binomialOrMore(faults, count.n, claim === "at least" ? 1 - limit : limit);
  const clusterings = (["pass", "tag"] as const).map((side) =>
    clusterSums(
      [...new Set(count.rows.map((row) => row[side]))].map((name) => {
        const cluster = count.rows.filter((row) => row[side] === name);
        return { n: cluster.length, failures: cluster.filter(({ read }) => !read).length };
      }),
    ),
  );
  const sense = claim === "at least" ? "at-least" : "at-most";
  return chanceOfFaults({ n: count.n, k: count.k, clusterings }, { sense, limit }, 0.02);
}
