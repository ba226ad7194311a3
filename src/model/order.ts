/**
 * The orders that everything is put into: the same in any locale.
 */

/** Compares two texts by Unicode code point. */
export function byCodePoint(a: string, b: string): number {
  const shared = Math.min(a.length, b.length);
  for (let i = 0; i < shared; i += 1) {
    // Where two code units differ inside a pair of surrogates, the code points start at the same place and differ too.
    if (a.charCodeAt(i) !== b.charCodeAt(i)) return rankOfUnit(a.charCodeAt(i)) - rankOfUnit(b.charCodeAt(i));
  }
  return a.length - b.length;
}

/** Surrogates stand for code points above every other unit, though their own numbers lie below U+E000. */
function rankOfUnit(unit: number): number {
  return unit >= 0xd800 && unit <= 0xdfff ? unit + 0x10000 : unit;
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
