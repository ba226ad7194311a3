/** A reproducible source of chance: the same label gives the same numbers on every machine. */
export interface RandomStream {
  /** From 0 (inclusive) to 1 (exclusive), in steps of 2^-32. */
  uniform(): number;
  /** A whole number from `from` to `to`, both inclusive. */
  integer(from: number, to: number): number;
  /** Roughly standard normal, within -6 to 6. */
  normal(): number;
  chance(probability: number): boolean;
  pick<T>(list: readonly T[]): T;
  /** A new list in random order. */
  shuffled<T>(list: readonly T[]): T[];
}

// 2^32 divided by the golden ratio, made odd: steps through all 32-bit states without a short cycle.
const stride = 0x9e3779b9;

/** Spreads 32 bits over 32 bits by shifts and odd multipliers, so that neighbouring states look unrelated. */
function mix(bits: number): number {
  let word = bits | 0;
  word = Math.imul(word ^ (word >>> 16), 0x7feb352d);
  word = Math.imul(word ^ (word >>> 15), 0x846ca68b);
  return (word ^ (word >>> 16)) >>> 0;
}

/**
 * One stream a label, so that a change to one read point leaves the logs of all others as they were.
 * Good enough to invent data with; not for statistics that matter and not for secrets.
 */
export function randomStream(label: string): RandomStream {
  let state = 0;
  for (let i = 0; i < label.length; i += 1) state = mix(state + Math.imul(label.charCodeAt(i) + 1, stride));

  const uniform = (): number => {
    state = (state + stride) | 0;
    return mix(state) / 4294967296;
  };
  const integer = (from: number, to: number): number => from + Math.floor(uniform() * (to - from + 1));
  // Twelve uniforms less six have mean 0 and variance 1, and need no function whose last digit depends on the machine.
  const normal = (): number => {
    let sum = -6;
    for (let i = 0; i < 12; i += 1) sum += uniform();
    return sum;
  };
  const shuffled = <T>(list: readonly T[]): T[] => {
    const copy = [...list];
    for (let last = copy.length - 1; last > 0; last -= 1) {
      const other = integer(0, last);
      const held = copy[last]!;
      copy[last] = copy[other]!;
      copy[other] = held;
    }
    return copy;
  };
  return {
    uniform,
    integer,
    normal,
    chance: (probability) => uniform() < probability,
    pick: (list) => list[integer(0, list.length - 1)]!,
    shuffled,
  };
}
