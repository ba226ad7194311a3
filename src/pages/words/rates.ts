import type { Estimate } from "../../model/estimate.ts";
import type { MeasureId, Sense } from "../../model/facility.ts";
import { decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";

/** The three figures of an estimate as they are printed, without their unit. */
export interface Figures {
  value: string;
  lower: string;
  upper: string;
  unit: "%" | "dBm" | "tags a minute";
}

/** What stands where a figure does not exist. */
const noFigure = "none";

const most = 8;
const mostForBounds = 4;

/**
 * A rate as a percentage, rounded against whoever claims that the limit is kept: down where at least the limit is
 * asked, up where at most it is allowed.
 */
function rounded(rate: number, sense: Sense, digits: number): string {
  if (rate <= 0) return "0";
  if (rate >= 1) return "100";
  const scale = 10 ** digits;
  const steps = rate * 100 * scale;
  // A hair forgives binary arithmetic: 0.57 is 57 %, not 56.9 %.
  const hair = 1e-8;
  const whole = sense === "at-least" ? Math.floor(steps + hair) : Math.ceil(steps - hair);
  return decimalText(whole / scale, digits);
}

function decimalsAsStated(value: number): number {
  return (statedNumber(value).split(".")[1] ?? "").length;
}

/** A rate below 1 is never printed as 100: it gets the decimals it takes. */
function short(rate: number, sense: Sense, digits: number): string {
  for (let more = digits; more <= most; more += 1) {
    const text = rounded(rate, sense, more);
    if (rate >= 1 || !/^100\.0*$/.test(text)) return text;
  }
  return `99.${"9".repeat(most)}`;
}

/**
 * One decimal, and as many more as a limit has, or as keep the value apart from 0 and 100 %. The bounds are kept apart
 * too where four decimals are enough for it.
 */
function digitsFor(value: number, bounds: number[], sense: Sense, limit: number | null): number {
  const vanishes = (rate: number, digits: number) =>
    rate > 0 && rate < 1 && /^(0(\.0*)?|100(\.0*)?)$/.test(rounded(rate, sense, digits));
  const edge = Math.min(value, 1 - value);
  let digits = Math.max(1, limit === null ? 1 : Math.min(mostForBounds, decimalsAsStated(limit * 100)));
  while (digits < most && edge > 0 && edge * 100 < 10 ** -digits * (1 - 1e-9)) digits += 1;
  while (digits < most && vanishes(value, digits)) digits += 1;
  for (let more = digits; more <= mostForBounds; more += 1) {
    if (!bounds.some((bound) => vanishes(bound, more))) return more;
  }
  return digits;
}

/**
 * The figures of a rate, all three rounded in the same direction, against the claimant. `100` stands only where nothing
 * was missed, `0` only where nothing was read or heard.
 */
export function rateFigures(estimate: Estimate, sense: Sense, limit: number | null = null): Figures {
  const { value, lower, upper } = estimate;
  if (value === null) return { value: noFigure, lower: noFigure, upper: noFigure, unit: "%" };
  const bounds = [lower, upper].filter((bound) => bound !== null);
  const digits = digitsFor(value, bounds, sense, limit);
  const text = (rate: number | null) => (rate === null ? noFigure : short(rate, sense, digits));
  return { value: text(value), lower: text(lower), upper: text(upper), unit: "%" };
}

/** A share as a percentage rounded down, with its unit: `97.6 %`; `100 %` only where none is lacking. */
export function shareText(k: number, n: number): string {
  if (n === 0) return noFigure;
  return withUnit(short(k / n, "at-least", digitsFor(k / n, [], "at-least", null)), "%");
}

/**
 * An expected rate: as it was stated, or, where it was worked out and its decimals have no end, rounded against the
 * claimant like any other.
 */
export function expectedText(rate: number, sense: Sense, limit: number): string {
  const stated = Number((rate * 100).toFixed(3));
  const exact = Math.abs(rate * 100 - stated) < 1e-9;
  const figure = exact ? statedNumber(stated) : short(rate, sense, digitsFor(rate, [], sense, limit));
  return withUnit(figure, "%");
}

/** The figures of an RSSI quantile, in tenths of a dBm and rounded against the claimant. */
export function dbmFigures(estimate: Estimate, sense: Sense): Figures {
  const text = (dbm: number | null, onMiss: boolean | undefined) => {
    if (dbm === null) return onMiss ? "missed" : noFigure;
    const hair = 1e-9;
    const tenths = sense === "at-least" ? Math.floor(dbm * 10 + hair) : Math.ceil(dbm * 10 - hair);
    return decimalText(tenths / 10, 1);
  };
  const { onMiss } = estimate;
  return {
    value: text(estimate.value, onMiss?.value),
    lower: text(estimate.lower, onMiss?.lower),
    upper: text(estimate.upper, onMiss?.upper),
    unit: "dBm",
  };
}

/**
 * Tags a minute, rounded against the claimant: decimals enough for two figures of the value (of the upper bound where
 * nothing was heard), and as many as the limit has. `0` stands only where nothing was heard.
 */
export function minuteFigures(estimate: Estimate, sense: Sense, limit: number | null = null): Figures {
  const { value, lower, upper } = estimate;
  const leading = value || upper || 1;
  const forTwo = 1 - Math.floor(Math.log10(leading));
  const digits = Math.min(most, Math.max(1, forTwo, limit === null ? 0 : decimalsAsStated(limit)));
  const text = (rate: number | null) => {
    if (rate === null) return noFigure;
    if (rate <= 0) return "0";
    const scale = 10 ** digits;
    const hair = 1e-8;
    const whole = sense === "at-least" ? Math.floor(rate * scale + hair) : Math.ceil(rate * scale - hair);
    return decimalText(whole / scale, digits);
  };
  return { value: text(value), lower: text(lower), upper: text(upper), unit: "tags a minute" };
}

/** The figures of any measure's estimate. */
export function figuresOf(
  estimate: Estimate,
  measure: MeasureId,
  sense: Sense,
  limit: number | null = null,
): Figures {
  switch (measure) {
    case "rssi-quantile":
      return dbmFigures(estimate, sense);
    case "idle-read-rate":
      return minuteFigures(estimate, sense, limit);
    default:
      return rateFigures(estimate, sense, limit);
  }
}

/** The way a measure is rounded where no criterion says which side is claimed. */
export function usualSense(measure: MeasureId): Sense {
  const heardIsBad: MeasureId[] = ["stray-pass-rate", "bystander-read-rate", "idle-read-rate"];
  return heardIsBad.includes(measure) ? "at-most" : "at-least";
}

/** A figure with its unit: `99.6 %`, `−63.3 dBm`, `0.095 tags a minute`; a word stands without one. */
export function withUnit(figure: string, unit: Figures["unit"]): string {
  if (!/\d/.test(figure)) return figure;
  return unit === "tags a minute" ? `${figure} ${unit}` : `${figure}${thinSpace}${unit}`;
}

/** A limit as it was stated, with its unit: `99 %`, `−70 dBm`. */
export function limitText(limit: number, measure: MeasureId): string {
  switch (measure) {
    case "rssi-quantile":
      return `${statedNumber(limit)}${thinSpace}dBm`;
    case "idle-read-rate":
      return `${statedNumber(limit)} ${limit === 1 ? "tag" : "tags"} a minute`;
    default:
      return `${statedNumber(limit * 100)}${thinSpace}%`;
  }
}

/** `99 % asked`, `5 % allowed`, `−70 dBm asked`, `0.25 tags a minute allowed`. */
export function limitPhrase(limit: number, measure: MeasureId, sense: Sense): string {
  return `${limitText(limit, measure)} ${sense === "at-least" ? "asked" : "allowed"}`;
}

/** The interval in words: `97.1 to 99.9`, `at least 99.3`, `at most 7.5`, `from a missed tag to −71.5`. */
export function intervalPhrase(figures: Figures): string {
  const { lower, upper } = figures;
  const stands = (figure: string) => /\d/.test(figure);
  if (!stands(lower) && !stands(upper)) return upper === "missed" ? "below every level" : "no interval";
  if (figures.unit === "dBm") {
    if (lower === "missed") return `from a missed tag to ${upper}`;
    if (!stands(lower)) return `at most ${upper}`;
    return stands(upper) ? `${lower} to ${upper}` : `at least ${lower}`;
  }
  if (figures.unit === "%" && figures.value === "100") return `at least ${lower}`;
  if (figures.value === "0") return `at most ${upper}`;
  return `${lower} to ${upper}`;
}
