/** Draws that a seed repeats: numbers, and things out of lists. */
export class Draw {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
    // Neighbouring seeds begin alike.
    for (let i = 0; i < 8; i += 1) this.#next();
  }

  /** Marsaglia's xorshift of 32 bits on a Weyl sequence. */
  #next(): number {
    this.#state = (this.#state + 0x9e3779b9) >>> 0;
    let bits = this.#state;
    bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
    bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
    return (bits ^ (bits >>> 16)) >>> 0;
  }

  /** From 0 to `below` - 1. */
  below(below: number): number {
    return Math.floor((this.#next() / 2 ** 32) * below);
  }

  of<T>(list: readonly T[]): T {
    if (list.length === 0) throw new Error("nothing to draw from");
    return list[this.below(list.length)]!;
  }
}
