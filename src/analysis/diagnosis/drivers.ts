import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import type { ConditionPair, Driver, Drivers } from "../../model/diagnosis/why.ts";
import {
  areIndependent,
  type BinomialCell,
  clusteredCovariance,
  type LogisticFit,
  logisticRegression,
  meanOf,
  type ProfiledCoefficient,
  profiled,
} from "../../statistics/regression/logistic-regression.ts";
import type { DiagnosedPoint, Source } from "./misses/candidate.ts";
import { conditionCandidates } from "./misses/condition-candidates.ts";
import { type WalkedCells, walkedCells } from "./misses/walked-cells.ts";
import { level } from "./suggestions.ts";

/** Below so many misses no effect can be told. */
const fewestMisses = 3;
const mostPairs = 10;
/** Cells times squared predictors: beyond, intervals come from standard errors rather than from a profile, which takes some ten fits a coefficient. */
const mostProfiled = 20_000;

/** What each column does to the odds of a miss, and which values and pairs of values are missed more often. */
export const drivers: Source<Drivers> = (point) => {
  const none = { candidates: [], details: () => null };
  if (point.misses < fewestMisses) return none;
  const cells = walkedCells(point);
  if (cells.columns.length === 0) return none;
  const candidates = conditionCandidates(point, cells);
  return {
    candidates,
    details: (pAdjusted) => ({
      ...effectsOf(point, cells),
      pairs: candidates
        .flatMap((candidate): ConditionPair[] => {
          const p = pAdjusted(candidate);
          if (Object.keys(candidate.subject).length < 2 || p === null || p > level) return [];
          const { subject, ratio } = candidate;
          return [{ subject, ...candidate.counts!, ratio, pAdjusted: p }];
        })
        .sort((a, b) => a.pAdjusted - b.pAdjusted)
        .slice(0, mostPairs),
    }),
  };
};

/** Which columns are in the regression, and where each of their values stands among the predictors. */
interface Design {
  /** By column: the number of each value's predictor; 0 for the reference. Null for a column that is left out. */
  predictors: (number[] | null)[];
  cells: BinomialCell[];
  notToldApart: Drivers["notToldApart"];
}

function effectsOf(point: DiagnosedPoint, cells: WalkedCells): Pick<Drivers, "drivers" | "notToldApart"> {
  const design = designOf(cells);
  const fit = logisticRegression({ cells: design.cells, firth: true });
  const effects = fit === null ? [] : profiles(point, { cells, design, fit });
  return {
    notToldApart: design.notToldApart,
    drivers: cells.columns.map(({ column, names }, at): Driver => {
      const predictors = design.predictors[at] ?? null;
      const rate = fit === null || predictors === null ? 0 : rateAtReference(design, fit, predictors);
      return {
        column,
        reference: names[referenceOf(cells, at)]!,
        levels: names.map((value, number) => {
          const effect = predictors === null ? undefined : effects[predictors[number]!];
          const { n, k } = totalOf(cells, at, number);
          const counted = { value, missed: k, presented: n };
          if (effect === undefined) return { ...counted, odds: null, ratio: null, p: null };
          const odds = endsOf(effect, (logOdds) => Math.exp(logOdds));
          return {
            ...counted,
            odds,
            ratio: endsOf(odds, (ratio) => ratio / (1 - rate + rate * ratio)),
            p: effect.p,
          };
        }),
      };
    }),
  };
}

function endsOf<Ends extends { value: number; lower: number; upper: number }>(
  { value, lower, upper }: Ends,
  scale: (end: number) => number,
): { value: number; lower: number; upper: number } {
  return { value: scale(value), lower: scale(lower), upper: scale(upper) };
}

function totalOf({ values, n, k }: WalkedCells, column: number, value: number): { n: number; k: number } {
  const total = { n: 0, k: 0 };
  values.forEach((cell, i) => {
    if (cell[column] !== value) return;
    total.n += n[i]!;
    total.k += k[i]!;
  });
  return total;
}

/** The value walked most: what the others are compared with must not be chosen by its misses. */
function referenceOf(cells: WalkedCells, column: number): number {
  const walked = cells.columns[column]!.names.map((_, value) => totalOf(cells, column, value).n);
  return walked.indexOf(Math.max(...walked));
}

/** One column after the other; one whose values go together with those before it is left out. */
function designOf(cells: WalkedCells): Design {
  const predictors: Design["predictors"] = [];
  const notToldApart: Drivers["notToldApart"] = [];
  let built = cellsOf(cells, predictors);
  cells.columns.forEach(({ column, names }, at) => {
    const width = built[0]!.x.length;
    const reference = referenceOf(cells, at);
    let next = width;
    const own = names.map((_, value) => (value === reference ? 0 : next++));
    const tried = cellsOf(cells, [...predictors, own]);
    const alike = cells.columns
      .slice(0, at)
      .filter((_, other) => predictors[other] !== null && goTogether(cells, other, at));
    if (alike.length === 0 && areIndependent(tried)) {
      predictors.push(own);
      built = tried;
      return;
    }
    const others =
      alike.length > 0 ? alike : cells.columns.slice(0, at).filter((_, other) => predictors[other] !== null);
    predictors.push(null);
    notToldApart.push({ columns: [...others.map((other) => other.column), column] });
  });
  return { predictors, cells: built, notToldApart };
}

/** The constant first; a blank is taken as a value of its own. */
function cellsOf({ values, n, k }: WalkedCells, predictors: Design["predictors"]): BinomialCell[] {
  const widest = Math.max(0, ...predictors.flatMap((own) => own ?? []));
  const withBlanks = predictors.flatMap((own, at) =>
    own !== null && values.some((cell) => cell[at] === -1) ? [at] : [],
  );
  return values.map((cell, i) => {
    const x = new Array<number>(widest + 1 + withBlanks.length).fill(0);
    x[0] = 1;
    predictors.forEach((own, at) => {
      const value = cell[at]!;
      if (own === null) return;
      if (value === -1) x[widest + 1 + withBlanks.indexOf(at)] = 1;
      else if (own[value]! > 0) x[own[value]!] = 1;
    });
    return { x, n: n[i]!, k: k[i]! };
  });
}

/** Whether two columns' values are nearly one and the same: Cramér's V of 0.9 or more. */
function goTogether({ columns, values, n }: WalkedCells, first: number, second: number): boolean {
  const table = new Map<string, number>();
  const rows = new Map<number, number>();
  const sides = new Map<number, number>();
  const add = <Key>(counts: Map<Key, number>, key: Key, count: number) =>
    counts.set(key, (counts.get(key) ?? 0) + count);
  values.forEach((cell, i) => {
    const [a, b] = [cell[first]!, cell[second]!];
    if (a === -1 || b === -1) return;
    add(table, `${a} ${b}`, n[i]!);
    add(rows, a, n[i]!);
    add(sides, b, n[i]!);
  });
  const least = Math.min(rows.size, sides.size, columns[first]!.names.length) - 1;
  if (least < 1) return true;
  let sum = 0;
  for (const [key, count] of table) {
    const [a, b] = key.split(" ").map(Number);
    sum += (count * count) / (rows.get(a!)! * sides.get(b!)!);
  }
  return Math.sqrt((sum - 1) / least) >= 0.9;
}

/** The effect of each predictor, with intervals and tests that allow for misses of one pass going together. */
function profiles(
  point: DiagnosedPoint,
  { cells, design, fit }: { cells: WalkedCells; design: Design; fit: LogisticFit },
): (ProfiledCoefficient | undefined)[] {
  const { pass: cluster, n, missed: k } = point.of;
  const observed = { length: n.length, cell: cells.ofRow, cluster, n, k };
  const clustered = clusteredCovariance(fit, observed);
  const z = normalQuantile(1 - (1 - point.confidence) / 2, 0, 1);
  const isSmall = design.cells.length * fit.coefficients.length * fit.coefficients.length <= mostProfiled;
  return fit.coefficients.map((value, index) => {
    if (index === 0) return undefined;
    const variance = fit.covariance[index]![index]!;
    const inflation = Math.max(1, (clustered === null ? 0 : clustered[index]![index]!) / variance);
    if (isSmall) {
      return profiled(fit, { index, quantile: z * z, inflation });
    }
    const error = Math.sqrt(variance * inflation);
    const p = 2 * normalCdf(-Math.abs(value) / error, 0, 1);
    return { value, lower: value - z * error, upper: value + z * error, p };
  });
}

/** The rate that the fit gives if every presentation had the column's reference. */
function rateAtReference(
  { cells }: Design,
  { coefficients }: LogisticFit,
  predictors: readonly number[],
): number {
  let all = 0;
  let missed = 0;
  for (const { x, n } of cells) {
    const moved = x.map((value, i) => (i > 0 && predictors.includes(i) ? 0 : value));
    all += n;
    missed += n * meanOf(moved, coefficients);
  }
  return missed / all;
}
