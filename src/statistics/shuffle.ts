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

/** Whole numbers from 0 to below a bound, each as likely as the others. */
function wholeNumbers(label: string): (below: number) => number {
  let state = startOf(label);
  const word = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
  return (below) => {
    // What is left over above the last whole multiple would make small numbers likelier.
    const limit = 2 ** 32 - (2 ** 32 % below);
    let drawn = word();
    while (drawn >= limit) drawn = word();
    return drawn % below;
  };
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
