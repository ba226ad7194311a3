/**
 * The orders that everything is put into: the same in any locale.
 */

/** Compares two texts by Unicode code point. */
export function byCodePoint(a: string, b: string): number {
  if (a === b) return 0;
  const left = [...a];
  const right = [...b];
  const shared = Math.min(left.length, right.length);
  for (let i = 0; i < shared; i += 1) {
    const difference = left[i]!.codePointAt(0)! - right[i]!.codePointAt(0)!;
    if (difference !== 0) return difference;
  }
  return left.length - right.length;
}

const chunks = /\d+|\D+/g;
const digits = /^\d/;

/**
 * Compares two texts with runs of digits taken as whole numbers, so that P9 comes before P10; ties (P1 and P01) and
 * everything else go by code point.
 */
export function byNaturalOrder(a: string, b: string): number {
  if (a === b) return 0;
  const left = a.match(chunks) ?? [];
  const right = b.match(chunks) ?? [];
  const shared = Math.min(left.length, right.length);
  for (let i = 0; i < shared; i += 1) {
    const difference = compareChunks(left[i]!, right[i]!);
    if (difference !== 0) return difference;
  }
  return left.length - right.length || byCodePoint(a, b);
}

function compareChunks(a: string, b: string): number {
  if (!digits.test(a) || !digits.test(b)) return byCodePoint(a, b);
  const left = a.replace(/^0+/, "");
  const right = b.replace(/^0+/, "");
  return left.length - right.length || byCodePoint(left, right);
}

/** Compares first by one order, then, where that finds no difference, by the next. */
export function stableBy<T>(...orders: ((a: T, b: T) => number)[]): (a: T, b: T) => number {
  return (a, b) => {
    for (const order of orders) {
      const difference = order(a, b);
      if (difference !== 0) return difference;
    }
    return 0;
  };
}
