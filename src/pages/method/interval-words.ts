import type { IntervalName } from "../../intake/facility.ts";

/** What an interval is called in the settings and on the sheet, and what the method page says of it. */
export const intervalWords: Record<IntervalName, { name: string; short: string; used: string }> = {
  wilson: { name: "Wilson", short: "Wilson", used: "This facility uses the Wilson interval." },
  exact: {
    name: "exact (Clopper and Pearson)",
    short: "Clopper-Pearson",
    used: "This facility uses the exact interval of Clopper and Pearson, which is wider and never promises too much.",
  },
  "exact-clustered": {
    name: "exact-clustered (beta-binomial)",
    short: "exact-clustered",
    used: "This facility uses the exact interval with misses of one pass, and of one tag, that go together. It is wider and holds where passes and tags differ much more than is assumed.",
  },
  "any-time": {
    name: "any-time (confidence sequence)",
    short: "any-time",
    used: "This facility uses an interval that stays valid however often one looks.",
  },
};

const why =
  "Walking on until the interval clears the limit, and looking after every pass, is a known way to fool oneself: an interval made for one look gives a read point that misses its limit one more chance at every look. Decide how many passes to walk before the first one, or use the any-time interval. It holds at all looks together, so one may stop as soon as the limit is cleared.";

const price =
  "It costs passes: to show 99\u202f% at 95\u202f% takes 455 independent presentations without a miss in place of 368, and where the number is decided beforehand it buys nothing. It weighs the rates above the limit against the limit itself, with the weights of Beta(1/2, 1/2), and takes the effective sample as if it were known.";

/** When to use the any-time interval, and whether this report does. */
export function anyTimeParagraph(interval: IntervalName): string {
  const here =
    interval === "any-time"
      ? "This report uses it."
      : "This report does not use it: its intervals hold for a number of passes that was decided beforehand.";
  return `${why} ${here} ${price}`;
}
