import type { Condition } from "../../model/facility.ts";
import { counted, countText, thinSpace } from "../../model/number-words.ts";
import { byNaturalOrder } from "../../model/order.ts";
import type { PassResult, RoundResult } from "../../model/result.ts";
import { clockText } from "../words/dates.ts";
import { valueText } from "../words/labels.ts";

/** The data of the script that draws pass by pass, with every text finished. */
export interface PassChart {
  points: { share: number; text: string; href: string }[];
  conditions: { label: string; values: string[]; of: number[] }[];
  /** Where the upright axis begins, in percent. */
  from: number;
  words: { across: string; up: string; passes: string };
}

export interface PassByPass {
  /** Null where there is nothing or too much to draw; the sentence says which. */
  chart: PassChart | null;
  sentence: string;
  /** What the marks can be coloured by; the first choice is nothing. */
  choices: { value: string; label: string; chosen: boolean }[];
}

/** Beyond this, marks lie on top of each other and the page grows past a megabyte. */
const mostPoints = 4000;

/** The share read in each valid pass, in the order walked. */
export function passByPass(
  round: RoundResult,
  conditions: Condition[],
  hrefOf: (pass: PassResult) => string,
): PassByPass {
  const passes = round.passList.filter((pass) => pass.voidReason === null && pass.tagsPresented > 0);
  if (passes.length === 0) {
    return {
      chart: null,
      sentence: "No valid pass presented a tag, so there is no picture.",
      choices: [],
    };
  }
  if (passes.length > mostPoints) {
    const sentence = `${counted(passes.length, "pass is", "passes are")} too many to draw one by one; the CSV table has all of them.`;
    return { chart: null, sentence, choices: [] };
  }
  const points = passes.map((pass) => ({
    share: (100 * pass.tagsRead) / pass.tagsPresented,
    text: pointText(pass),
    href: hrefOf(pass),
  }));
  const marked = conditions
    .map((condition) => valuesOf(condition, passes))
    .filter(({ values }) => values.length > 0);
  const first = marked.findIndex(({ values }) => values.length > 1);
  return {
    chart: {
      points,
      conditions: marked,
      from: axisStart(points.map(({ share }) => share)),
      words: {
        across: "Pass, in the order walked",
        up: `Tags read,${thinSpace}%`,
        passes: "Passes",
      },
    },
    sentence: sentenceOf(passes),
    choices: [
      { value: "-1", label: "nothing", chosen: first < 0 },
      ...marked.map(({ label }, index) => ({ value: String(index), label, chosen: index === first })),
    ],
  };
}

function pointText(pass: PassResult): string {
  const read = `${countText(pass.tagsRead)} of ${counted(pass.tagsPresented, "tag", "tags")} read`;
  return pass.startedAtLocal === null
    ? `${pass.id}: ${read}`
    : `${pass.id}, ${clockText(pass.startedAtLocal)}: ${read}`;
}

function sentenceOf(passes: PassResult[]): string {
  const complete = passes.filter((pass) => pass.tagsRead === pass.tagsPresented).length;
  const all = counted(passes.length, "valid pass", "valid passes");
  if (complete === passes.length) return `All tags were read in each of ${all}.`;
  if (complete === 0) return `All tags were read in none of ${all}.`;
  return `All tags were read in ${countText(complete)} of ${all}.`;
}

/** A pass whose tags differ in a condition is marked by all its values together. */
function valuesOf(condition: Condition, passes: PassResult[]): PassChart["conditions"][number] {
  const texts = passes.map((pass) => {
    const own = pass.conditions[condition.column] ?? [];
    return own.length === 0 ? "not stated" : own.map((value) => valueText(value, condition)).join(" and ");
  });
  const values = [...new Set(texts)].sort(byNaturalOrder);
  const places = new Map(values.map((value, index) => [value, index]));
  const of = texts.map((text) => places.get(text) as number);
  return { label: condition.label, values, of };
}

/** The lowest share, rounded down, with some room below it. */
function axisStart(shares: number[]): number {
  const lowest = shares.reduce((low, share) => Math.min(low, share), 100);
  return Math.max(0, Math.floor((lowest - 2) / 10) * 10);
}
