/** Rows looked at for repeats: more would not fit in a reasonable share of memory. */
const repeatsLimit = 4_000_000;

/**
 * Counts rows that repeat an earlier one exactly, by 64 bits of each row's text: two different rows are taken for the
 * same once in a million logs of millions of rows.
 */
export class RepeatedRows {
  repeated = 0;
  lookedAt = 0;
  #slots = 1 << 16;
  #table = new Uint32Array(2 * this.#slots);
  #filled = 0;

  add(row: string): void {
    if (this.lookedAt >= repeatsLimit) return;
    this.lookedAt += 1;
    let a = 0x811c9dc5;
    let b = 0x9e3779b9;
    for (let i = 0; i < row.length; i += 1) {
      const unit = row.charCodeAt(i);
      a = Math.imul(a ^ unit, 0x01000193);
      b = Math.imul(b ^ unit, 0x85ebca6b) ^ (b >>> 15);
    }
    a = mixed(a);
    b = mixed(b ^ row.length);
    // Both nought marks an empty slot.
    if (a === 0 && b === 0) b = 1;
    if (this.#put(a, b)) {
      this.#filled += 1;
      if (this.#filled * 2 > this.#slots) this.#grow();
    } else this.repeated += 1;
  }

  /** False where it was there already. */
  #put(a: number, b: number): boolean {
    const mask = this.#slots - 1;
    for (let slot = a & mask; ; slot = (slot + 1) & mask) {
      const left = this.#table[2 * slot]!;
      const right = this.#table[2 * slot + 1]!;
      if (left === a && right === b) return false;
      if (left === 0 && right === 0) {
        this.#table[2 * slot] = a;
        this.#table[2 * slot + 1] = b;
        return true;
      }
    }
  }

  #grow(): void {
    const old = this.#table;
    this.#slots *= 2;
    this.#table = new Uint32Array(2 * this.#slots);
    for (let i = 0; i < old.length; i += 2)
      if (old[i] !== 0 || old[i + 1] !== 0) this.#put(old[i]!, old[i + 1]!);
  }
}

/** Spreads what the loop left in the high bits over all of them. */
function mixed(hash: number): number {
  let h = hash ^ (hash >>> 16);
  h = Math.imul(h, 0x7feb352d);
  h ^= h >>> 15;
  h = Math.imul(h, 0x846ca68b);
  return (h ^ (h >>> 16)) >>> 0;
}
