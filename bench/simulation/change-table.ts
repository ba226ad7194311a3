import { type ComparedRounds, falseChanges, shownGains } from "./false-changes.ts";
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

/** Two rounds are walked on other days, in one session each or in four. */
const dayScatter = 0.5;
const sessionsOfRound = [1, 4];

/** How often equal rounds of one rate and size are called changed because the days differ. */
interface DayEffect {
  trueRate: number;
  passes: number;
  tags: number;
  /** In units of the logit scale. */
  dayScatter: number;
  /** Of each round. */
  sessions: number;
  comparisons: number;
  /** The higher share of passes that scatter not at all, and by one unit; 0..1. */
  highest: number;
}

/** Independent rounds between which nothing changed but the day. */
function dayEffects(comparisons: number, seed: number): DayEffect[] {
  let next = seed;
  const settings = [0.99, 0.97].flatMap((trueRate) =>
    [20, 40].flatMap((passes) =>
      sessionsOfRound.map((sessions) => ({ trueRate, passes, tags: 40, sessions })),
    ),
  );
  return settings.map((setting) => {
    const shares = [0, 1].map((passScatter) => {
      const model = { ...setting, passScatter, tagScatter: 0, dayScatter };
      const { changed } = falseChanges({ model, shared: "nothing" }, comparisons, next);
      next += 1;
      return changed.compared / comparisons;
    });
    return { ...setting, dayScatter, comparisons, highest: Math.max(...shares) };
  });
}

/** The same as lines to print. */
export function* dayTable(comparisons: number, seed: number): Generator<string, DayEffect[]> {
  yield `Called changed though only the day differs, by ${dayScatter} on the logit scale: ${comparisons} comparisons a line, the higher of passes scattered by 0 and 1, in per cent`;
  yield "   rate  passes x tags  sessions of each round  compared";
  const found = dayEffects(comparisons, seed);
  for (const { trueRate, passes, tags, sessions, highest } of found)
    yield [
      `   ${trueRate.toFixed(2)}`,
      `${passes} x ${tags}`.padStart(13),
      `${sessions}`.padStart(22),
      share(highest * comparisons, comparisons).padStart(8),
    ].join("  ");
  return found;
}

/** A gain that `plan` sizes two rounds for: 22 passes of 40 tags show it with 80 % at a correlation of 0.02. */
const gain = { before: 0.96, after: 0.99 };

/** How often a gain is shown, by length and scatter of the passes, as lines to print. */
export function* gainTable(comparisons: number, seed: number): Generator<string> {
  yield `Called better: ${gain.before} before, ${gain.after} after, other passes and tags, ${comparisons} comparisons a line, in per cent`;
  yield "   passes x tags  scatter: passes  compared";
  let next = seed;
  for (const passes of [22, 30, 40])
    for (const passScatter of [0, 1, 1.5]) {
      const model = { passes, tags: 40, passScatter, tagScatter: 0 };
      const shown = shownGains(model, gain, { comparisons, seed: next });
      next += 1;
      yield [
        `   ${`${passes} x 40`.padStart(13)}`,
        passScatter.toFixed(1).padStart(15),
        share(shown, comparisons).padStart(8),
      ].join("  ");
    }
}

function share(count: number, all: number): string {
  return ((count / all) * 100).toFixed(2).padStart(5);
}
