/**
 * The places of some values in the rising order of these; equal values keep their order. Values are not NaN.
 *
 * Levels that an instrument prints have few different values: these are sorted, and the places are counted in. Example: 3, 1, 3, 2:
 * places 1, 3, 0, 2.
 */
export function risingOrder(values: Float64Array): Int32Array {
  const numbers = new Map<number, number>();
  const numberOf = new Int32Array(values.length);
  const seen: number[] = [];
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]!;
    let number = numbers.get(value);
    if (number === undefined) {
      number = seen.push(value) - 1;
      numbers.set(value, number);
    }
    numberOf[i] = number;
  }
  const rank = new Int32Array(seen.length);
  Float64Array.from(seen)
    .sort()
    .forEach((value, place) => {
      rank[numbers.get(value)!] = place;
    });
  for (let i = 0; i < values.length; i += 1) numberOf[i] = rank[numberOf[i]!]!;
  const next = startsOf(numberOf, seen.length);
  const order = new Int32Array(values.length);
  for (let i = 0; i < values.length; i += 1) order[next[numberOf[i]!]!++] = i;
  return order;
}

/**
 * The values of each group, numbered from 0, in rising order: one walk over all values in their order. A value of group -1 is in
 * none. Example: 3, 1, 3, 2 of groups 0, 0, 1, -1: 1 and 3 in group 0, 3 in group 1.
 */
export function sortedGroups(
  values: Float64Array,
  { order, groupOf, groups }: { order: Int32Array; groupOf: Int32Array; groups: number },
): (group: number) => Float64Array {
  const starts = startsOf(groupOf, groups);
  const next = starts.slice();
  const sorted = new Float64Array(starts[groups]!);
  for (let place = 0; place < order.length; place += 1) {
    const i = order[place]!;
    const group = groupOf[i]!;
    if (group !== -1) sorted[next[group]!++] = values[i]!;
  }
  return (group) => sorted.subarray(starts[group]!, starts[group + 1]!);
}

/**
 * The quantile of values in rising order, at least one of them, 0 <= q <= 1: R's type 7, as in `order-statistic.ts`, without a copy
 * of the values. Example: the median of 1, 2, 4, 8 is 3.
 */
export function quantileOfRising(rising: ArrayLike<number>, q: number): number {
  const place = (rising.length - 1) * q;
  const lower = Math.floor(place);
  const value = rising[lower]!;
  return place === lower ? value : value + (place - lower) * (rising[lower + 1]! - value);
}

/** Where each group begins if they follow each other, and, last, where they end. */
function startsOf(groupOf: Int32Array, groups: number): Int32Array {
  const starts = new Int32Array(groups + 1);
  for (let i = 0; i < groupOf.length; i += 1) {
    const group = groupOf[i]!;
    if (group !== -1) starts[group + 1]! += 1;
  }
  for (let group = 1; group <= groups; group += 1) starts[group]! += starts[group - 1]!;
  return starts;
}
