import type { Condition } from "../../model/facility.ts";
import { counted, countText, thinSpace } from "../../model/number-words.ts";
import { byNaturalOrder } from "../../model/order.ts";
import type { PassResult } from "../../model/result/pass.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { clockText } from "../words/dates.ts";
import { valueText } from "../words/labels.ts";

/** One thing that is known of each pass: a number, or one of a few names. */
export interface Dimension {
  /** Stands in the address. */
  id: string;
  label: string;
  /** Null for numbers, else the names that `values` count from 0. */
  names: string[] | null;
  /** By pass; null where it is not recorded. */
  values: (number | null)[];
}

/** The data of the script that explores the passes, with every text finished. */
export interface Explorer {
  points: { text: string; missed: string; href: string }[];
  dimensions: Dimension[];
  /** What stands on the axes and in the colours at first, by id. */
  first: { x: string; y: string; colour: string };
  /** What a pass without colour is called. */
  passes: string;
}

/** A choice of the panel: what stands on an axis, or what the colours tell. */
interface Choice {
  id: keyof Explorer["first"];
  label: string;
  options: { value: string; label: string; chosen: boolean }[];
}

export interface Explore {
  /** Null where there is nothing or too much to draw; the sentence says which. */
  data: Explorer | null;
  sentence: string;
  choices: Choice[];
}

/** Beyond this, marks lie on top of each other and the page grows past a megabyte. */
const mostPoints = 4000;
/** Codes that a pass names: of very many passes one each, since all are in the table. */
const mostNamed = (passes: number) => (passes > 1000 ? 1 : 6);
/** No colour. */
const nothing = "nothing";

/** The valid passes, to be laid out by what is known of each. */
export function explore(
  round: RoundResult,
  conditions: Condition[],
  hrefOf: (pass: PassResult) => string,
): Explore {
  const passes = round.passList.filter((pass) => pass.voidReason === null && pass.tagsPresented > 0);
  if (passes.length === 0)
    return { data: null, sentence: "No valid pass presented a tag, so there is no picture.", choices: [] };
  if (passes.length > mostPoints) {
    const sentence = `${counted(passes.length, "pass is", "passes are")} too many to draw one by one; the CSV table has all of them.`;
    return { data: null, sentence, choices: [] };
  }
  const dimensions = dimensionsOf(passes, conditions);
  const named = dimensions.filter(({ names }) => names !== null);
  const first = {
    x: "order",
    y: "share",
    colour: named.find(({ names }) => names!.length > 1)?.id ?? nothing,
  };
  const options = (list: { id: string; label: string }[], chosen: string) =>
    list.map(({ id, label }) => ({ value: id, label, chosen: id === chosen }));
  return {
    data: {
      points: passes.map((pass) => ({
        text: pointText(pass),
        missed: missedText(pass, mostNamed(passes.length)),
        href: hrefOf(pass),
      })),
      dimensions,
      first,
      passes: "Passes",
    },
    sentence: sentenceOf(passes),
    choices: [
      { id: "x", label: "Across", options: options(dimensions, first.x) },
      { id: "y", label: "Upwards", options: options(dimensions, first.y) },
      {
        id: "colour",
        label: "Shape and colour",
        options: options([{ id: nothing, label: nothing }, ...named], first.colour),
      },
    ],
  };
}

/** What is recorded of at least one pass. */
function dimensionsOf(passes: PassResult[], conditions: Condition[]): Dimension[] {
  const number = (id: string, label: string, of: (pass: PassResult, place: number) => number | null) => ({
    ...{ id, label, names: null },
    values: passes.map(of),
  });
  return [
    number("order", "Pass, in the order walked", (_, place) => place + 1),
    number(
      "share",
      `Tags read,${thinSpace}%`,
      ({ tagsRead, tagsPresented }) => (100 * tagsRead) / tagsPresented,
    ),
    number("rssi", "Strongest RSSI, dBm", ({ strongestDbm }) => strongestDbm),
    number("reads", "Reads of a tag read", ({ reads, tagsRead }) =>
      reads === null || tagsRead === 0 ? null : reads / tagsRead,
    ),
    number("first", "Time to the first read, ms", ({ firstReadMs }) => firstReadMs),
    namesOf(
      "antenna",
      "Antenna",
      passes.map(({ antennas }) => antennas),
    ),
    ...conditions.map((condition) =>
      namesOf(
        `condition-${condition.column}`,
        condition.label,
        passes.map((pass) =>
          (pass.conditions[condition.column] ?? []).map((value) => valueText(value, condition)),
        ),
      ),
    ),
  ].filter(({ values }) => values.some((value) => value !== null));
}

/** A pass whose tags differ, or that several antennas read, is marked by all the names together. */
function namesOf(id: string, label: string, byPass: string[][]): Dimension {
  const texts = byPass.map((names) => (names.length === 0 ? null : names.join(" and ")));
  const names = [...new Set(texts.filter((text) => text !== null))].sort(byNaturalOrder);
  const places = new Map(names.map((name, place) => [name, place]));
  return { id, label, names, values: texts.map((text) => (text === null ? null : places.get(text)!)) };
}

function pointText(pass: PassResult): string {
  const read = `${countText(pass.tagsRead)} of ${counted(pass.tagsPresented, "tag", "tags")} read`;
  return pass.startedAtLocal === null
    ? `${pass.id}: ${read}`
    : `${pass.id}, ${clockText(pass.startedAtLocal)}: ${read}`;
}

/** The tags missed, as far as they can be listed; empty where none was. */
function missedText({ missedTags, tagsPresented, tagsRead }: PassResult, most: number): string {
  if (tagsRead === tagsPresented) return "";
  if (missedTags === null) return "The log does not name the tags missed.";
  const more = missedTags.length - most;
  return `Missed: ${missedTags.slice(0, most).join(", ")}${more > 0 ? ` and ${countText(more)} more` : ""}`;
}

function sentenceOf(passes: PassResult[]): string {
  const complete = passes.filter((pass) => pass.tagsRead === pass.tagsPresented).length;
  const all = counted(passes.length, "valid pass", "valid passes");
  if (complete === passes.length) return `All tags were read in each of ${all}.`;
  if (complete === 0) return `All tags were read in none of ${all}.`;
  return `All tags were read in ${countText(complete)} of ${all}.`;
}
