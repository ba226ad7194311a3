/**
 * A list in the random order that a seed stands for: every order equally likely, the same one on every machine.
 *
 * `seed` is a whole number of 0 or more; `label` makes lists of one seed differ, so that a change to one of them leaves the
 * order of the others as it was. Good enough to mix a list; not for simulations and not for secrets.
 *
 * Shuffled from the end, each entry changed places with one before it or itself (R. Durstenfeld 1964, Commun. ACM 7,
 * 420), with numbers from the shift register of G. Marsaglia (2003), J. Stat. Softw. 8(14), shifts 13, 17 and 5; both
 * from memory. Example: seed 7, label "dock-1": a, b, c, d, e become c, e, a, b, d.
 */
export function shuffled<T>(list: readonly T[], seed: number, label: string): T[] {
  const next = wholeNumbers(`${seed} ${label}`);
  const order = [...list];
  for (let last = order.length - 1; last > 0; last -= 1) {
    const other = next(last + 1);
    const held = order[last]!;
    order[last] = order[other]!;
    order[other] = held;
  }
  return order;
}

/** How many numbers a word of 32 bits holds. */
const words = 0x1_0000_0000;

/** Whole numbers from 0 to below a bound, each as likely as the others. */
function wholeNumbers(label: string): (below: number) => number {
  let state = startOf(label);
  return (below) => {
    state = nextFair(state, below);
    return remainder(state, below);
  };
}

/** The next state of the register whose remainder by `below` is as likely as any other. */
function nextFair(state: number, below: number): number {
  let next = nextState(state);
  // What is left over above the last whole multiple would make small numbers likelier; it is shorter than `below`.
  if (next >>> 0 >= words - below) {
    const limit = words - (words % below);
    while (next >>> 0 >= limit) next = nextState(next);
  }
  return next;
}

/** Faster than `%`, and exact: a quotient of two numbers below 2^32 is never rounded up to a whole one. */
function remainder(state: number, below: number): number {
  const word = state >>> 0;
  return word - Math.floor(word / below) * below;
}

function nextState(state: number): number {
  const left = state ^ (state << 13);
  const right = left ^ (left >>> 17);
  return right ^ (right << 5);
}

/** Spread over 32 bits, so that neighbouring seeds start far apart; never 0, in which the register would stay. */
function startOf(label: string): number {
  let bits = label.length;
  for (const character of label) {
    bits = Math.imul(bits ^ character.codePointAt(0)!, 0x5bd1e995);
    bits ^= bits >>> 15;
    bits = Math.imul(bits, 0x2c1b3c6d);
    bits ^= bits >>> 13;
  }
  return bits === 0 ? 1 : bits;
}

/** Orders drawn for a test; with the observed one they make ten thousand. */
const ordersDrawn = 9999;

/**
 * Whether large counts of a sequence stand beside each other more than chance alone brings them: the share of random orders,
 * the observed one among them, whose sum of products of neighbours is as large or larger.
 *
 * `counts` are whole numbers of 0 or more, in their order. At most two neighbours of none give 1. The orders are drawn
 * from a fixed seed, so the same sequence always gives the same p. Drawing ends where p is sure to exceed 0.05; the p
 * returned is then that of the orders drawn, above 0.05.
 *
 * Source: a permutation test of A. Wald and J. Wolfowitz (1943), Ann. Math. Stat. 14, 378-388, for the serial correlation
 * at lag one, not closed to a circle; p with the observed order counted, B. Phipson and G. K. Smyth (2010), Stat. Appl.
 * Genet. Mol. Biol. 9, 39; both from memory. Example: 0, 0, 0, 0, 1, 1, 1, 0, 0, 0: 0.0664; all 120 places of the ones
 * give 8/120 = 0.0667.
 */
export function neighbourTest(counts: readonly number[]): number {
  const n = counts.length;
  const some = Int32Array.from(counts.filter((count) => count > 0));
  const observed = productsOfNeighbours(Int32Array.from(counts));
  if (observed === 0) return 1;
  // Only the places of the counts above 0 are drawn: the others add nothing.
  let state = startOf("neighbours");
  const places = Int32Array.from({ length: n }, (_, i) => i);
  const at = new Float64Array(n + 2);
  const enough = Math.ceil(0.05 * (ordersDrawn + 1));
  let asLarge = 1;
  for (let drawn = 1; drawn <= ordersDrawn; drawn += 1) {
    let sum = 0;
    for (let i = 0; i < some.length; i += 1) {
      state = nextFair(state, n - i);
      const other = i + remainder(state, n - i);
      const place = places[other]!;
      places[other] = places[i]!;
      places[i] = place;
      // Of two neighbours the one that is placed second finds the first.
      sum += some[i]! * (at[place]! + at[place + 2]!);
      at[place + 1] = some[i]!;
    }
    for (let i = 0; i < some.length; i += 1) at[places[i]! + 1] = 0;
    if (sum >= observed) asLarge += 1;
    if (asLarge > enough) return asLarge / (drawn + 1);
  }
  return asLarge / (ordersDrawn + 1);
}

function productsOfNeighbours(counts: Int32Array): number {
  let sum = 0;
  for (let i = 1; i < counts.length; i += 1) sum += counts[i - 1]! * counts[i]!;
  return sum;
}
