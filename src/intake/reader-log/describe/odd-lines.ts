import type { OddLines } from "./log-description.ts";

const mostExamples = 3;

/** Lines that a reader of the log stumbles over: each reason with its count and the first few. */
export class OddLineList {
  readonly #reasons = new Map<string, OddLines>();

  add(reason: string, line: number, text: string): void {
    let known = this.#reasons.get(reason);
    if (known === undefined) {
      known = { reason, count: 0, first: [] };
      this.#reasons.set(reason, known);
    }
    known.count += 1;
    if (known.first.length < mostExamples)
      known.first.push({ line, text: Buffer.from(text.slice(0, 200)).toString() });
  }

  /** In the order of their first lines. */
  list(): OddLines[] {
    return [...this.#reasons.values()].sort((a, b) => a.first[0]!.line - b.first[0]!.line);
  }
}
