import { type ComparedRounds, falseChanges } from "./false-changes.ts";
import { highestShare, type Share, shareLine } from "./share.ts";
import type { Shared } from "./walk-model.ts";

/** Passes by tags. */
const sizes = [
  [10, 20],
  [20, 40],
  [30, 10],
  [50, 20],
] as const;
/** Scatter of passes and of tags, in units of the logit scale. */
const scatters = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
  [1.5, 0],
  [0, 1.5],
  [1.5, 1.5],
] as const;
const rates = [0.99, 0.97, 0.95];
const designs: { shared: Shared; words: string }[] = [
  {
    shared: "passes and tags",
    words: "Paired: the same tags, and passes that are as hard as their partners",
  },
  { shared: "tags", words: "Paired: the same tags, but every pass as hard as it happens to be" },
  { shared: "nothing", words: "Independent: other passes and other tags" },
];

/** How often a comparison calls two equal rounds better or worse, setting by setting, as lines to print. */
export function* changeTable(comparisons: number, seed: number): Generator<string, ChangeShare[]> {
  yield `Called changed: two equal rounds, ${comparisons} comparisons a line, in per cent (nominal 5, target at most 7)`;
  let next = seed;
  const shares: ChangeShare[] = [];
  for (const { shared, words } of designs) {
    const first = next;
    const counts: { where: string; count: number }[] = [];
    yield words;
    yield "   rate  passes x tags  scatter: passes  tags  naive  compared";
    const highest = { naive: 0, compared: 0 };
    for (const trueRate of rates) {
      for (const [passes, tags] of sizes) {
        for (const [passScatter, tagScatter] of scatters) {
          const model = { passes, tags, trueRate, passScatter, tagScatter };
          const { changed } = falseChanges({ model, shared } satisfies ComparedRounds, comparisons, next);
          next += 1;
          highest.naive = Math.max(highest.naive, changed.naive);
          highest.compared = Math.max(highest.compared, changed.compared);
          const where = `${trueRate}, ${passes} x ${tags}, scatter of passes ${passScatter}, of tags ${tagScatter}`;
          counts.push({ where, count: changed.compared });
          yield [
            `   ${trueRate.toFixed(2)}`,
            `${passes} x ${tags}`.padStart(13),
            passScatter.toFixed(1).padStart(15),
            tagScatter.toFixed(1).padStart(4),
            share(changed.naive, comparisons),
            share(changed.compared, comparisons).padStart(8),
          ].join("  ");
        }
      }
    }
    const found = highestShare(counts, comparisons, [first, next - 1]);
    shares.push({ design: shared, ...found, naive: highest.naive / comparisons });
    yield `  naive: highest ${share(highest.naive, comparisons)}; compared: ${shareLine(found)}`;
  }
  return shares;
}

/** How often a design calls equal rounds changed, at the most. */
export interface ChangeShare extends Share {
  /** Which effects the rounds have in common. */
  design: Shared;
  /** The highest share with every presentation taken as independent; 0..1. */
  naive: number;
}

function share(count: number, all: number): string {
  return ((count / all) * 100).toFixed(2).padStart(5);
}
