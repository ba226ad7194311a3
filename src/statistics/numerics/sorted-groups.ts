/**
 * The places of some values in the rising order of these; equal values keep their order. Values are not NaN.
 *
 * Each value is given the number of its like among the different ones, and the places are counted in. Example: 3, 1, 3, 2: places 1,
 * 3, 0, 2.
 */
export function risingOrder(values: Float64Array): Int32Array {
  const { numberOf, count } = hundredths(values) ?? different(values);
  const next = new Int32Array(count + 1);
  for (let i = 0; i < values.length; i += 1) next[numberOf[i]! + 1]! += 1;
  for (let number = 1; number < count; number += 1) next[number]! += next[number - 1]!;
  const order = new Int32Array(values.length);
  for (let i = 0; i < values.length; i += 1) order[next[numberOf[i]!]!++] = i;
  return order;
}

interface Numbered {
  /** Larger for a larger value, the same for the same one; from 0 to below `count`. */
  numberOf: Int32Array;
  count: number;
}

const mostHundredths = 100_000;

/** For levels as instruments print them, in hundredths at the finest, and minus infinity; null for others. */
function hundredths(values: Float64Array): Numbered | null {
  const steps = new Int32Array(values.length);
  let [lowest, highest] = [mostHundredths, -mostHundredths];
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]!;
    if (value === Number.NEGATIVE_INFINITY) continue;
    const step = Math.round(value * 100);
    if (step / 100 !== value || Math.abs(step) >= mostHundredths) return null;
    steps[i] = step;
    lowest = Math.min(lowest, step);
    highest = Math.max(highest, step);
  }
  const isLevel = (i: number) => values[i] !== Number.NEGATIVE_INFINITY;
  const numberOf = steps.map((step, i) => (isLevel(i) ? step - lowest + 1 : 0));
  return { numberOf, count: Math.max(0, highest - lowest + 1) + 1 };
}

function different(values: Float64Array): Numbered {
  const sorted = Float64Array.from(new Set(values)).sort();
  const numbers = new Map<number, number>();
  sorted.forEach((value, number) => {
    numbers.set(value, number);
  });
  return { numberOf: Int32Array.from(values, (value) => numbers.get(value)!), count: sorted.length };
}

/**
 * The values of each group, numbered from 0, in rising order: one walk over the places that `order` has, which are those of
 * `risingOrder` or some of them. A value of group -1 is in none. Example: 3, 1, 3, 2 of groups 0, 0, 1, -1: 1 and 3 in group 0, 3
 * in group 1.
 */
export function sortedGroups(
  values: Float64Array,
  { order, groupOf, groups }: { order: Int32Array; groupOf: Int32Array; groups: number },
): (group: number) => Float64Array {
  const starts = new Int32Array(groups + 1);
  for (let place = 0; place < order.length; place += 1) {
    const group = groupOf[order[place]!]!;
    if (group !== -1) starts[group + 1]! += 1;
  }
  for (let group = 1; group <= groups; group += 1) starts[group]! += starts[group - 1]!;
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
