import type { ReadPointModel } from "./walk-model.ts";
import { rules, type WrongSignOffs, wrongSignOffs } from "./wrong-sign-offs.ts";

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
] as const;
const rates = [0.99, 0.97];

const models: ReadPointModel[] = rates.flatMap((trueRate) =>
  sizes.flatMap(([passes, tags]) =>
    scatters.map(([passScatter, tagScatter]) => ({ passes, tags, trueRate, passScatter, tagScatter })),
  ),
);

/** More scatter than a miss correlation of 0.02 stands for, and the correlation that then belongs into facility.yaml. */
const wilder = [
  { passScatter: 1.5, tagScatter: 0, missCorrelation: 0.02 },
  { passScatter: 1.5, tagScatter: 0, missCorrelation: 0.1 },
  { passScatter: 2, tagScatter: 0, missCorrelation: 0.02 },
  { passScatter: 2, tagScatter: 0, missCorrelation: 0.1 },
  { passScatter: 2, tagScatter: 2, missCorrelation: 0.02 },
  { passScatter: 2, tagScatter: 2, missCorrelation: 0.1 },
];

const head = ["  limit", "passes x tags", "scatter: passes", "tags", ...rules].join("  ");

/** How often a read point that only just keeps its limit is signed off, setting by setting, as lines to print. */
export function* signOffTable(walks: number, seed: number): Generator<string> {
  yield `Wrongly met: true rate at the limit, ${walks} walks a line, in per cent (nominal 2.5, target at most 5)`;
  yield head;
  const highest = new Map<string, number>();
  for (const [i, model] of models.entries()) {
    const found = wrongSignOffs(model, walks, seed + i);
    for (const rule of rules) highest.set(rule, Math.max(highest.get(rule) ?? 0, found.met[rule] / walks));
    yield line(found);
  }
  const highs = rules.map((rule) => `${rule} ${((highest.get(rule) ?? 0) * 100).toFixed(2)}`);
  yield `  highest: ${highs.join(", ")}`;
  yield "The same with more scatter than a miss correlation of 0.02 stands for: here it has to be raised";
  yield `${head}  miss correlation`;
  for (const [i, { missCorrelation, ...scatter }] of wilder.entries()) {
    const model = { passes: 20, tags: 40, trueRate: 0.97, ...scatter };
    const found = wrongSignOffs(model, walks, seed + models.length + i, missCorrelation);
    yield `${line(found)}  ${missCorrelation.toFixed(2).padStart(16)}`;
  }
}

function line({ model, walks, met }: WrongSignOffs): string {
  const { trueRate, passes, tags, passScatter, tagScatter } = model;
  const figures = rules.map((rule) => ((met[rule] / walks) * 100).toFixed(2).padStart(rule.length));
  return [
    `   ${trueRate.toFixed(2)}`,
    `${passes} x ${tags}`.padStart(13),
    passScatter.toFixed(1).padStart(15),
    tagScatter.toFixed(1).padStart(4),
    ...figures,
  ].join("  ");
}
