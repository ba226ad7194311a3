import type { Facility } from "../../model/facility.ts";
import type { PassLog } from "../../model/pass-log.ts";
import type { Comparison, ComparisonReason } from "../../model/result.ts";
import { type RowCombinations, rowCombinations } from "../../model/row-combinations.ts";
import { namesAt, type RowIndex } from "../../model/rows.ts";
import { holmAdjusted } from "../../statistics/holm.ts";
import { changeOf } from "./change.ts";
import { clusterReasons, leftOut, settingReasons, tagReasons } from "./comparability.ts";
import { type Pairing, pairUp } from "./pairing.ts";
import { tagChanges } from "./tag-changes.ts";
import { countWalk, sortedWalk, type Walk } from "./walk.ts";
import { type Side, weighDifference } from "./weighed-difference.ts";

/**
 * What became of the read rate of every read point from round to round: between consecutive rounds, and between the
 * first and the last (once where there are two). After each read point as a whole, one exploratory row for each value
 * of each declared condition that either round walked there.
 *
 * Compared is only what both rounds walked: presentations of valid passes under the same combination of all declared
 * conditions. What was left out for want of a counterpart, and what else tells the rounds apart, stands in the reasons.
 * With nothing in common there is no number at all. In the order of facility.yaml; the order of the rows changes
 * nothing. One round gives no comparison.
 */
export function compareRounds(facility: Facility, log: PassLog, index: RowIndex): Comparison[] {
  const pairs = roundPairs(facility.rounds.map((round) => round.id));
  if (pairs.length === 0) return [];
  const cells = rowCombinations(facility.conditions, log);
  return facility.readPoints.flatMap(({ id }) => {
    const walks = new Map(
      facility.rounds.map((round) => [
        round.id,
        sortedWalk(round.id, index.rowsAt({ readPoint: id, round: round.id }), log, cells),
      ]),
    );
    const groups = groupsOf(facility, id, log);
    return pairs.flatMap(([before, after]) =>
      comparePair(facility, log, cells, id, walks.get(before)!, walks.get(after)!, groups),
    );
  });
}

/** Consecutive rounds, then the first and the last where those are not consecutive. */
function roundPairs(rounds: string[]): [string, string][] {
  const pairs = rounds.slice(1).map((after, i): [string, string] => [rounds[i]!, after]);
  if (rounds.length > 2) pairs.push([rounds[0]!, rounds.at(-1)!]);
  return pairs;
}

interface ConditionValue {
  /** The condition's place in the list. */
  condition: number;
  value: string;
}

/** Every value of every condition that the report shows at the read point. */
function groupsOf(facility: Facility, readPoint: string, log: PassLog): ConditionValue[] {
  const { conditions } = facility;
  return conditions.flatMap(({ column }, condition) =>
    namesAt(log, { column, readPoints: [readPoint], conditions }).map((value) => ({ condition, value })),
  );
}

function comparePair(
  facility: Facility,
  log: PassLog,
  cells: RowCombinations,
  readPoint: string,
  before: Walk,
  after: Walk,
  groups: ConditionValue[],
): Comparison[] {
  const pairing = pairUp(before, after, log);
  const all = new Set([...before.byCell.keys(), ...after.byCell.keys()]);
  const compare = (considered: ReadonlySet<number>) =>
    compareCells(facility, log, cells, before, after, pairing, considered);
  const place = { readPoint, before: before.round, after: after.round };
  const whole = compare(all);
  const main: Comparison = {
    ...place,
    group: null,
    exploratory: false,
    ...whole,
    tags: namesEveryTag(whole) ? tagChanges(before, after, common(before, after, all), log) : null,
    reasons: [...whole.reasons, ...settingReasons(facility, readPoint, before.round, after.round)],
  };
  const exploratory = groups.flatMap(({ condition, value }): Comparison[] => {
    const considered = new Set([...all].filter((cell) => cells.valueIn(cell, condition) === value));
    if (considered.size === 0) return [];
    const group = { [facility.conditions[condition]!.column]: value };
    return [{ ...place, group, exploratory: true, ...compare(considered), tags: null }];
  });
  return [main, ...withHolm(exploratory)];
}

/** The combinations of conditions that both rounds walked. */
function common(before: Walk, after: Walk, considered: ReadonlySet<number>): Set<number> {
  return new Set([...considered].filter((cell) => before.byCell.has(cell) && after.byCell.has(cell)));
}

function namesEveryTag({ difference, reasons }: Compared): boolean {
  return difference !== null && !reasons.some(({ code }) => code === "tags-not-named");
}

function withHolm(rows: Comparison[]): Comparison[] {
  const tested = rows.filter((row) => row.p !== null);
  const adjusted = holmAdjusted(tested.map((row) => row.p!));
  return rows.map((row) => {
    const place = tested.indexOf(row);
    return place === -1 ? row : { ...row, pAdjusted: adjusted[place]! };
  });
}

type Compared = Omit<Comparison, "readPoint" | "before" | "after" | "group" | "exploratory" | "tags">;

function compareCells(
  facility: Facility,
  log: PassLog,
  cells: RowCombinations,
  before: Walk,
  after: Walk,
  pairing: Pairing,
  considered: ReadonlySet<number>,
): Compared {
  const unwalked = [before, after].filter(
    (walk) => ![...walk.byCell.keys()].some((cell) => considered.has(cell)),
  );
  const shared = common(before, after, considered);
  const dropped = [before, after].flatMap((walk) => leftOut(walk, considered, shared, cells));
  if (shared.size === 0) {
    const reasons: ComparisonReason[] =
      unwalked.length > 0
        ? unwalked.map(({ round }) => ({ code: "not-walked", round }))
        : [{ code: "no-common-conditions" }, ...dropped];
    return notComparable(reasons);
  }
  const order = cells.inOrder(shared);
  const sideOf = (walk: Walk): Side => ({
    ...countWalk(walk, shared, log),
    cells: order.map((cell) => walk.byCell.get(cell)!),
  });
  const earlier = sideOf(before);
  const later = sideOf(after);
  const { table, pairs } = pairing.tableOf(shared);
  const isPaired = pairs === earlier.counts.n && pairs === later.counts.n;
  const weighed = weighDifference(earlier, later, isPaired ? table : null, facility);
  const reasons: ComparisonReason[] = [...dropped];
  if (weighed.standardised) reasons.push({ code: "mix-differs" });
  // A few may share a name by chance; from half on, pairing was meant.
  if (!isPaired && 2 * pairs >= Math.min(earlier.counts.n, later.counts.n)) {
    reasons.push({ code: "partly-paired", pairs, before: earlier.counts.n, after: later.counts.n });
  }
  reasons.push(
    ...tagReasons(before, earlier, after, later),
    ...clusterReasons(before.round, earlier),
    ...clusterReasons(after.round, later),
  );
  const change = changeOf(weighed.difference!, facility.smallestChangeThatMatters);
  return { ...weighed, pAdjusted: null, change, reasons };
}

function notComparable(reasons: ComparisonReason[]): Compared {
  return {
    design: null,
    standardised: false,
    difference: null,
    estimates: null,
    pairs: null,
    p: null,
    pAdjusted: null,
    test: null,
    change: "not-comparable",
    reasons,
  };
}
