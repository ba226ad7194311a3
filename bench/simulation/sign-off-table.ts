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

/** How often a read point that only just keeps its limit is signed off, setting by setting, as lines to print. */
export function* signOffTable(walks: number, seed: number): Generator<string> {
  yield `Wrongly met: true rate at the limit, ${walks} walks a line, in per cent (nominal 2.5, target at most 5)`;
  let next = seed;
  for (const { largest, each } of scatters) {
    yield `Scatter up to ${largest} on the logit scale`;
    yield head;
    const highest = new Map<string, number>();
    for (const trueRate of rates) {
      for (const [passes, tags] of sizes) {
        for (const [passScatter, tagScatter] of each) {
          const model: ReadPointModel = { passes, tags, trueRate, passScatter, tagScatter };
          const found = wrongSignOffs(model, walks, { seed: next });
          next += 1;
          for (const rule of rules) {
            highest.set(rule, Math.max(highest.get(rule) ?? 0, found.met[rule]! / walks));
          }
          yield line(found);
        }
      }
    }
    const highs = rules.map((rule) => `${rule} ${((highest.get(rule) ?? 0) * 100).toFixed(2)}`);
    yield `  highest: ${highs.join(", ")}`;
  }
  yield `The same where facility.yaml says miss_correlation: ${raisedCorrelation}`;
  yield head;
  for (const scatter of raised) {
    const model = { passes: 20, tags: 40, trueRate: 0.97, ...scatter };
    yield line(wrongSignOffs(model, walks, { seed: next, missCorrelation: raisedCorrelation }));
    next += 1;
  }
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
