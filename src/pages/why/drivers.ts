import { ratioRange, timesAsOften } from "../../measures/rounding.ts";
import type { Why } from "../../model/diagnosis/why.ts";
import { joined, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import { pColumn } from "../parts/columns.ts";
import { type Column, type Section, tableFigure } from "../parts/figure.ts";
import { missColumns, missedColumns } from "./miss-columns.ts";
import type { WhyContext } from "./why-context.ts";

type Drivers = NonNullable<Why["drivers"]>;
type Level = Drivers["drivers"][number]["levels"][number] & {
  column: string;
  reference: string;
  /** Whether the column's effect could be told at all. */
  isWeighed: boolean;
};
type Pair = Drivers["pairs"][number];

/** What each condition and manifest column does to the misses, the others held equal. */
export function drivers(found: Why["drivers"], context: WhyContext): Section | null {
  if (found === null) return null;
  const { names } = context;
  const levels = found.drivers.flatMap(({ column, reference, levels }) =>
    levels.map(
      (level): Level => ({
        ...level,
        column,
        reference,
        isWeighed: levels.some(({ ratio }) => ratio !== null),
      }),
    ),
  );
  const effects = levels.filter(({ ratio }) => ratio !== null && (ratio.lower > 1 || ratio.upper < 1));
  const without = found.drivers
    .filter(
      ({ column, levels }) =>
        !effects.some((effect) => effect.column === column) && levels.some(({ ratio }) => ratio !== null),
    )
    .map(({ column }) => names.condition(column));
  const sentences = nonEmpty([
    ...effects.map(
      ({ column, value, reference, ratio }) =>
        `${names.condition(column)}: ${names.value(column, value)} is missed ${timesAsOften([ratio!.lower, ratio!.upper])} as ${names.value(column, reference)}, all else equal.`,
    ),
    ...found.notToldApart.map(
      ({ columns }) =>
        `${sentenceStart(joined(columns.map(names.condition)))} change together, or nearly so, in this walk, so their effects cannot be told apart.`,
    ),
    without.length === 0 ? "" : `No effect is shown of: ${joined(without)}.`,
  ]);
  if (sentences.length === 0 && found.pairs.length === 0) return null;
  return {
    id: "drivers",
    title: "What drives the misses",
    sentences,
    tables: [
      ...(levels.length === 0 ? [] : [levelTable(levels, context)]),
      ...(found.pairs.length === 0 ? [] : [pairTable(found.pairs, context)]),
    ],
  };
}

function levelTable(rows: Level[], { names, files }: WhyContext) {
  const columns: Column<Level>[] = [
    {
      header: "column",
      value: ({ column }) => column,
      label: "Condition",
      text: ({ column }) => names.condition(column),
    },
    {
      header: "value",
      value: ({ value }) => value,
      label: "Value",
      text: ({ column, value }) => names.value(column, value),
    },
    { header: "reference", value: ({ reference }) => reference },
    ...missedColumns<Level>(),
    { header: "odds_ratio", value: ({ odds }) => odds?.value ?? null },
    { header: "odds_ratio_lower", value: ({ odds }) => odds?.lower ?? null },
    { header: "odds_ratio_upper", value: ({ odds }) => odds?.upper ?? null },
    { header: "ratio", value: ({ ratio }) => ratio?.value ?? null },
    { header: "ratio_lower", value: ({ ratio }) => ratio?.lower ?? null },
    {
      header: "ratio_upper",
      value: ({ ratio }) => ratio?.upper ?? null,
      label: "Times as often",
      text: ({ value, reference, ratio, isWeighed }) => {
        if (ratio !== null) return ratioRange([ratio.lower, ratio.upper]);
        if (!isWeighed) return "not told apart";
        return value === reference ? "compared with this" : "";
      },
      as: "number",
    },
    pColumn("p", ({ p }) => p),
  ];
  return tableFigure({
    id: "driver-levels",
    caption:
      "How much more often each value is missed than the one it is compared with, the other conditions held equal.",
    howToRead:
      "A logistic regression weighs all conditions together, with Firth's correction, so that a value without a miss keeps a finite effect; its errors are clustered by pass. An interval that holds 1 shows no effect.",
    columns,
    rows,
    tableCaption: "Effect of each condition on the misses",
    mostRows: 60,
    file: files("why-drivers", "the effect of each condition on the misses."),
  });
}

function pairTable(rows: Pair[], { names, files }: WhyContext) {
  const columns: Column<Pair>[] = [
    {
      header: "pair",
      value: ({ subject }) =>
        Object.entries(subject)
          .map(([column, value]) => `${column}: ${value}`)
          .join("; "),
      label: "Together",
      text: ({ subject }) => names.group(subject),
    },
    ...missColumns<Pair>(),
  ];
  return tableFigure({
    id: "driver-pairs",
    caption: "Two values together that are missed more often than chance explains.",
    howToRead: "",
    columns,
    rows,
    tableCaption: "Pairs of conditions",
    mostRows: 20,
    file: files("why-pairs", "pairs of conditions that are missed more often than chance explains."),
  });
}
