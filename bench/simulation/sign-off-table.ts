import { highestShare, type Share, shareLine } from "./share.ts";
import type { ReadPointModel } from "./walk-model.ts";
import { rules, type WrongSignOffs, wrongSignOffs } from "./wrong-sign-offs.ts";

/** Passes by tags. */
const sizes = [
  [10, 20],
  [20, 40],
  [30, 10],
  [50, 20],
] as const;
/** Scatter of passes and of tags, in units of the logit scale: about what a miss correlation of 0.02 stands for, more, and far more. */
const scatters = [
  {
    largest: 1,
    each: [
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ],
  },
  {
    largest: 1.5,
    each: [
      [1.5, 0],
      [0, 1.5],
      [1.5, 1.5],
    ],
  },
  {
    largest: 2,
    each: [
      [2, 0],
      [0, 2],
      [2, 2],
    ],
  },
] as const;
const rates = [0.99, 0.97, 0.95];

/** More scatter than a miss correlation of 0.02 stands for, and the correlation that then belongs into facility.yaml. */
const raised = [
  { passScatter: 1.5, tagScatter: 0 },
  { passScatter: 2, tagScatter: 0 },
  { passScatter: 2, tagScatter: 2 },
];
const raisedCorrelation = 0.1;

const head = ["  limit", "passes x tags", "scatter: passes", "tags", ...rules].join("  ");

/** Every setting of one scatter, with its seed. */
function settingsOf(
  { each }: (typeof scatters)[number],
  seed: number,
): { model: ReadPointModel; seed: number }[] {
  const models = rates.flatMap((trueRate) =>
    sizes.flatMap(([passes, tags]) =>
      each.map(([passScatter, tagScatter]) => ({ passes, tags, trueRate, passScatter, tagScatter })),
    ),
  );
  return models.map((model, i) => ({ model, seed: seed + i }));
}

/** How often a read point whose true rate is the limit is signed off, setting by setting, as lines to print. */
export function* signOffTable(walks: number, seed: number): Generator<string, HighestShare[]> {
  yield `Wrongly met: true rate at the limit, ${walks} walks a line, in per cent (nominal 2.5, target at most 5)`;
  let next = seed;
  const shares: HighestShare[] = [];
  for (const scatter of scatters) {
    yield `Scatter up to ${scatter.largest} on the logit scale`;
    yield head;
    const found: WrongSignOffs[] = [];
    for (const setting of settingsOf(scatter, next)) {
      const one = wrongSignOffs(setting.model, walks, { seed: setting.seed });
      found.push(one);
      yield line(one);
    }
    for (const rule of rules) {
      const counts = found.map(({ model, met }) => ({ where: whereOf(model), count: met[rule]! }));
      const share = highestShare(counts, walks, [next, next + found.length - 1]);
      shares.push({ scatter: scatter.largest, rule, ...share });
      yield `  ${rule}: ${shareLine(share)}`;
    }
    next += found.length;
  }
  yield `The same where facility.yaml says miss_correlation: ${raisedCorrelation}`;
  yield head;
  for (const scatter of raised) {
    const model = { passes: 20, tags: 40, trueRate: 0.97, ...scatter };
    yield line(wrongSignOffs(model, walks, { seed: next, missCorrelation: raisedCorrelation }));
    next += 1;
  }
  return shares;
}

/** The highest share of all settings of one scatter that a rule signed off wrongly. */
interface HighestShare extends Share {
  /** At most, in units of the logit scale, of passes and of tags. */
  scatter: number;
  rule: string;
}

function whereOf({ trueRate, passes, tags, passScatter, tagScatter }: ReadPointModel): string {
  return `${trueRate}, ${passes} x ${tags}, scatter of passes ${passScatter}, of tags ${tagScatter}`;
}

function line({ model, walks, met }: WrongSignOffs): string {
  const { trueRate, passes, tags, passScatter, tagScatter } = model;
  const figures = rules.map((rule) => ((met[rule]! / walks) * 100).toFixed(2).padStart(rule.length));
  return [
    `   ${trueRate.toFixed(2)}`,
    `${passes} x ${tags}`.padStart(13),
    passScatter.toFixed(1).padStart(15),
    tagScatter.toFixed(1).padStart(4),
    ...figures,
  ].join("  ");
}
