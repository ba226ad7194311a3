import { asFraction } from "../model/decimal.ts";
import { type Estimate, onMissOf } from "../model/estimate.ts";
import type { Sense } from "../model/facility.ts";
import { powerOfTen, statedNumber, statedPercent, thinSpace } from "../model/number-words.ts";
import { isRssi, rssiRangeText } from "../model/radio/rssi.ts";
import { rounded } from "./rounding.ts";

/** How the figures of a measure are printed and drawn: unit, rounding, axis. */
export interface Scale {
  /** The unit after a figure in running text: `%`, `dBm`, `tags a minute`. */
  readonly unit: string;
  /** Whether the unit is words, too long to follow every figure of a column. */
  readonly hasWordUnit: boolean;
  /** The unit of the unrounded figures in tables for download. */
  readonly csvUnit: string;
  /** What a line of an interval picture covers: `rates`. */
  readonly quantity: string;
  /** `share` runs from 0 to 100 %, `level` around what is shown, `from-zero` from 0 to the highest thing shown. */
  readonly axis: "share" | "level" | "from-zero";
  /** The picture that findings of one sense share: the end of its id, and its heading. */
  readonly panels: Readonly<Record<Sense, { key: string; heading: string }>>;
  /** The printed ends of the scale; null where it has no end. */
  readonly lowest: string | null;
  readonly highest: string | null;
  /** What a limit is, for the help on facility.yaml. */
  readonly limit: Readonly<Record<Sense, { words: string; example: number }>>;
  /** How many decimals the figures of an estimate get. */
  digits(estimate: Estimate, sense: Sense, limit: number | null): number;
  /** A figure, rounded against the claim that the limit is met. */
  text(value: number, digits: number, sense: Sense): string;
  /** A limit as it was stated, with its unit. */
  stated(limit: number): string;
  /** The same for a narrow column, where the unit is several words. */
  statedBriefly?(limit: number): string;
  /** How far a figure is on the wrong side of its limit, for sorting: positive is worse. */
  shortfall(value: number, limit: number, sense: Sense): number;
  /** What is wrong with a limit; null if it can be met and missed. */
  limitFault(limit: number, sense: Sense): { expected: string; advice: string } | null;
}

/** The three figures of an estimate as they are printed. */
export interface Figures {
  value: string;
  lower: string;
  upper: string;
  /** The unit of all three. */
  unit: string;
}

const noFigure = "none";
/** The word for a figure that falls on a missed presentation. */
export const onMissed = "missed";

const mostDigits = 8;
const mostForBounds = 4;

/** Down where at least a limit is required, up where at most one is allowed. */
const against = (sense: Sense) => (sense === "at-least" ? "down" : "up");

/** How far a figure is on the wrong side of its limit, in the unit of the scale. */
const distance = (value: number, limit: number, sense: Sense) =>
  sense === "at-least" ? limit - value : value - limit;

function decimalsAsStated(value: number): number {
  return (statedNumber(value).split(".")[1] ?? "").length;
}

/** Fractions from 0 to 1, printed in per cent. */
export const percent: Scale = {
  unit: "%",
  hasWordUnit: false,
  csvUnit: "fraction",
  quantity: "rates",
  axis: "share",
  panels: {
    "at-least": { key: "high", heading: "What must be high" },
    "at-most": { key: "low", heading: "What must be low" },
  },
  lowest: "0",
  highest: "100",
  limit: {
    "at-least": { words: "a rate between 0 and 1 (0.99)", example: 0.99 },
    "at-most": { words: "a rate between 0 and 1 (0.01)", example: 0.01 },
  },
  digits: ({ value, lower, upper }, sense, limit) =>
    value === null
      ? 1
      : percentDigits(
          value,
          [lower, upper].filter((bound) => bound !== null),
          { sense, limit },
        ),
  text: percentText,
  stated: statedPercent,
  // Relative to what may be missed, or read.
  shortfall: (value, limit, sense) =>
    distance(value, limit, sense) / (sense === "at-least" ? 1 - limit : limit),
  limitFault: (limit, sense) =>
    limit > 0 && limit < 1
      ? null
      : { expected: "a rate above 0 and below 1", advice: rateAdvice(limit, sense) },
};

function rateAdvice(limit: number, sense: Sense): string {
  const isMost = sense === "at-most";
  if (limit === 1)
    return isMost
      ? "A rate can never exceed 1, so this asks nothing: state what is meant, for instance 0.01."
      : "No number of passes can show 100 %: state what is meant, for instance 0.999.";
  if (limit === 0)
    return isMost
      ? "No number of passes can show that something never happens: state what is meant, for instance 0.001."
      : "Every rate reaches 0, so this asks nothing: state what is meant, for instance 0.99.";
  if (limit === 100) return "No number of passes can show 100 %: state what is meant, for instance 0.999.";
  return percentSlip(limit) ?? "Write the rate as a fraction, for instance 0.99.";
}

/** What to write for a number that was meant in per cent where a fraction is asked for: `Write 0.95.`; null for any other. */
export function percentSlip(value: number): string | null {
  return value > 1 && value < 100 ? `Write ${asFraction(value)}.` : null;
}

/** Only 1 is printed as 100, and only 0 as 0: a rate between them gets as many decimals as needed. */
function percentText(rate: number, digits: number, sense: Sense): string {
  if (rate <= 0) return "0";
  if (rate >= 1) return "100";
  // Rounding forgives a hair, which would make these two 100 and 0: away from them, one step is enough.
  const step = powerOfTen(-digits);
  if (sense === "at-least" && 100 - rate * 100 < step) return rounded(100 - step, digits, "nearest");
  if (sense === "at-most" && rate * 100 < step) return rounded(step, digits, "nearest");
  for (let more = digits; more <= mostDigits; more += 1) {
    const text = rounded(rate * 100, more, against(sense));
    if (!/^(100|0)\.0*$/.test(text)) return text;
  }
  return rate < 0.5 ? `0.${"0".repeat(mostDigits - 1)}1` : `99.${"9".repeat(mostDigits)}`;
}

/**
 * One decimal, or as many as the limit has, or as distinguish the value from 0 and 100 %. The bounds are distinguished too
 * if four decimals are enough.
 */
function percentDigits(
  value: number,
  bounds: number[],
  { sense, limit }: { sense: Sense; limit: number | null },
): number {
  const vanishes = (rate: number, digits: number) =>
    rate > 0 && rate < 1 && /^(0|100)(\.0*)?$/.test(rounded(rate * 100, digits, against(sense)));
  const edge = Math.min(value, 1 - value);
  let digits = Math.max(1, limit === null ? 1 : Math.min(mostForBounds, decimalsAsStated(limit * 100)));
  while (digits < mostDigits && edge > 0 && edge * 100 < powerOfTen(-digits) * (1 - 1e-9)) digits += 1;
  while (digits < mostDigits && vanishes(value, digits)) digits += 1;
  for (let more = digits; more <= mostForBounds; more += 1) {
    if (!bounds.some((bound) => vanishes(bound, more))) return more;
  }
  return digits;
}

/** Received power, printed in tenths of a dBm. */
export const dbm: Scale = {
  unit: "dBm",
  hasWordUnit: false,
  csvUnit: "dBm",
  quantity: "signal strengths",
  axis: "level",
  panels: {
    "at-least": { key: "signal", heading: "Signal strength" },
    "at-most": { key: "signal-low", heading: "Signal strength that must be low" },
  },
  lowest: null,
  highest: null,
  limit: { "at-least": { words: "dBm", example: -65 }, "at-most": { words: "dBm", example: -65 } },
  digits: () => 1,
  text: (level, digits, sense) => rounded(level, digits, against(sense)),
  stated: (limit) => `${statedNumber(limit)}${thinSpace}dBm`,
  shortfall: distance,
  limitFault: (limit) => {
    if (isRssi(limit)) return null;
    return {
      expected: `an RSSI from ${rssiRangeText}`,
      advice:
        limit > 0 && isRssi(-limit)
          ? `Received power is negative in dBm: write ${-limit}.`
          : "Write the received power in dBm, for instance -65.",
    };
  },
};

/** A ratio of powers, printed in tenths of a dB. */
export const decibel: Scale = {
  unit: "dB",
  hasWordUnit: false,
  csvUnit: "dB",
  quantity: "margins",
  axis: "level",
  panels: {
    "at-least": { key: "margin", heading: "Power in hand" },
    "at-most": { key: "margin-low", heading: "Power in hand that must be low" },
  },
  lowest: null,
  highest: null,
  limit: { "at-least": { words: "dB", example: 3 }, "at-most": { words: "dB", example: 10 } },
  digits: () => 1,
  text: (value, digits, sense) => rounded(value, digits, against(sense)),
  stated: (limit) => `${statedNumber(limit)}${thinSpace}dB`,
  shortfall: distance,
  limitFault: (limit) =>
    Math.abs(limit) <= 30
      ? null
      : {
          expected: "a margin from -30 to 30 dB",
          advice: "Write how far the power in use must lie above the power needed, in dB, for instance 3.",
        },
};

/** Events over time, printed with two figures of the value. */
export const tagsAMinute: Scale = {
  unit: "tags a minute",
  hasWordUnit: true,
  csvUnit: "tags a minute",
  quantity: "tags a minute",
  axis: "from-zero",
  panels: {
    "at-least": { key: "busy", heading: "Tags a minute that must be many" },
    "at-most": { key: "idle", heading: "Idle reads" },
  },
  lowest: "0",
  highest: null,
  limit: {
    "at-least": { words: "tags a minute", example: 1 },
    "at-most": { words: "tags a minute", example: 0.1 },
  },
  // Two figures of the upper bound if nothing was read.
  digits: ({ value, upper }, _sense, limit) => {
    const forTwo = 1 - Math.floor(Math.log10(value || upper || 1));
    return Math.min(mostDigits, Math.max(1, forTwo, limit === null ? 0 : decimalsAsStated(limit)));
  },
  text: (rate, digits, sense) => (rate <= 0 ? "0" : rounded(rate, digits, against(sense))),
  stated: (limit) => `${statedNumber(limit)} ${limit === 1 ? "tag" : "tags"} a minute`,
  statedBriefly: (limit) => `${statedNumber(limit)}/min`,
  shortfall: (value, limit, sense) => distance(value, limit, sense) / limit,
  limitFault: (limit) =>
    limit > 0
      ? null
      : {
          expected: "more than 0 tags a minute",
          advice: "No log can show that nothing is ever read: state what is meant, for instance 0.1.",
        },
};

/** Stretches of time, printed with two figures of the value. */
export const seconds: Scale = {
  unit: "s",
  hasWordUnit: false,
  csvUnit: "s",
  quantity: "times",
  axis: "from-zero",
  panels: {
    "at-least": { key: "slow", heading: "Times that must be long" },
    "at-most": { key: "times", heading: "Times" },
  },
  lowest: null,
  highest: null,
  limit: {
    "at-least": { words: "seconds", example: 1 },
    "at-most": { words: "seconds", example: 60 },
  },
  digits: ({ value }, _sense, limit) => {
    const forTwo = value === null || value === 0 ? 1 : 1 - Math.floor(Math.log10(Math.abs(value)));
    return Math.min(mostDigits, Math.max(0, forTwo, limit === null ? 0 : decimalsAsStated(limit)));
  },
  text: (time, digits, sense) => rounded(time, digits, against(sense)),
  stated: (limit) => `${statedNumber(limit)}${thinSpace}s`,
  shortfall: (value, limit, sense) => distance(value, limit, sense) / limit,
  limitFault: (limit) =>
    limit > 0
      ? null
      : { expected: "more than 0 seconds", advice: "State how long it may take, for instance 60." },
};

/** How an estimate is printed; with a limit its figures get at least the decimals of the limit. */
export interface Print {
  scale: Scale;
  sense: Sense;
  limit?: number | null;
}

/**
 * The three figures of an estimate, all rounded in the same direction, against the claim that the limit is met. An end of the
 * scale (`100`, `0`) is printed only if nothing was missed, or nothing was read.
 */
export function figuresOf(estimate: Estimate, { scale, sense, limit = null }: Print): Figures {
  const { value, lower, upper } = estimate;
  const onMiss = onMissOf(estimate);
  const digits = scale.digits(estimate, sense, limit);
  const text = (figure: number | null, isOnMiss: boolean) =>
    figure === null ? (isOnMiss ? onMissed : noFigure) : scale.text(figure, digits, sense);
  return {
    value: text(value, onMiss.value),
    lower: text(lower, onMiss.lower),
    upper: text(upper, onMiss.upper),
    unit: scale.unit,
  };
}

/** The figures of a rate without a limit. */
export function rateFigures(estimate: Estimate, sense: Sense): Figures {
  return figuresOf(estimate, { scale: percent, sense });
}

/** A figure with its unit: `99.6 %`, `−63.3 dBm`, `0.095 tags a minute`; a word has no unit. */
export function withUnit(figure: string, { unit, hasWordUnit }: Scale): string {
  if (!/\d/.test(figure)) return figure;
  return `${figure}${hasWordUnit ? " " : thinSpace}${unit}`;
}

/** `99 % required`, `5 % allowed`, `−70 dBm required`, `0.25 tags a minute allowed`. */
export function limitPhrase(limit: number, scale: Scale, sense: Sense): string {
  return `${scale.stated(limit)} ${sense === "at-least" ? "required" : "allowed"}`;
}

/** The interval in words: `97.1 to 99.9`, `at least 99.3`, `at most 7.5`, `from a missed tag to −71.5`. */
export function intervalPhrase({ value, lower, upper }: Figures, { lowest, highest }: Scale): string {
  const isFigure = (text: string) => /\d/.test(text);
  if (!isFigure(lower) && !isFigure(upper)) return upper === onMissed ? "below every level" : "no interval";
  if (lower === onMissed) return `from a missed tag to ${upper}`;
  if (!isFigure(lower) || value === lowest) return `at most ${upper}`;
  if (!isFigure(upper) || value === highest) return `at least ${lower}`;
  return `${lower} to ${upper}`;
}

/** A share rounded down, with its unit: `97.6 %`; `100 %` only if none is missing. */
export function shareText(k: number, n: number): string {
  if (n === 0) return noFigure;
  return withUnit(
    percentText(k / n, percentDigits(k / n, [], { sense: "at-least", limit: null }), "at-least"),
    percent,
  );
}

/**
 * An expected rate: as it was stated, or, if it was computed and its decimals have no end, rounded like any other rate.
 */
export function expectedText(rate: number, sense: Sense, limit: number): string {
  const stated = Number((rate * 100).toFixed(3));
  const isExact = Math.abs(rate * 100 - stated) < 1e-9;
  const figure = isExact
    ? statedNumber(stated)
    : percentText(rate, percentDigits(rate, [], { sense, limit }), sense);
  return withUnit(figure, percent);
}
