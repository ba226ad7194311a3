/** What an interval is called in the settings and on the sheet, and what the method page says of it. */
export const intervalWords: Record<string, { name: string; short: string; used: string }> = {
  wilson: { name: "Wilson", short: "Wilson", used: "This facility uses the Wilson interval." },
  exact: {
    name: "exact (Clopper and Pearson)",
    short: "Clopper-Pearson",
    used: "This facility uses the exact interval of Clopper and Pearson, which is wider and never promises too much.",
  },
  "beta-binomial": {
    name: "beta-binomial (Clopper-Pearson with clustering)",
    short: "beta-binomial",
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
  "It costs passes: to show 99\u202f% at 95\u202f% takes 455 independent presentations without a miss in place of 368, and where the number is decided beforehand it buys nothing. It weighs the rates above the limit against the limit itself, with the weights of Beta(1/2, 1/2).";

const promise =
  "Early looks, after few passes, see little of how passes differ, so much hangs on the correlation that is assumed. The same differences between passes make misses the more alike the more of them there are. So the stated correlation is taken for a rate of 99\u202f% and above, and grows as the rate that is put to the test falls: 0.02 becomes 0.057 at 97\u202f% and 0.089 at 95\u202f%; a correlation above 0.02 stands as it is until that growth overtakes it, and 0 stays 0. Of simulated read points that only just keep a limit of 99, 97 or 95\u202f%, looked at after every pass, it ever signs off at most 0.2 in 100 where passes and tags scatter by one unit on the logit scale, 1.0 at 1.5 units and 2.6 at 2 units (2.5 is what the confidence promises). The price is that a few passes show little of a lower rate: five passes of forty without a miss show 77\u202f%.";

/** When to use the any-time interval, and whether this report does. */
export function anyTimeWords(interval: string): { when: string; promise: string } {
  const here =
    interval === "any-time"
      ? "This report uses it."
      : "This report does not use it: its intervals hold for a number of passes that was decided beforehand.";
  return { when: `${why} ${here} ${price}`, promise };
}

const together =
  "Wilson and Clopper-Pearson shrink the count to an effective sample, and the correlation that is assumed, 0.02 where nothing else is stated, carries much of the weight while few are missed. Where passes or tags differ more than that, they promise too much. The beta-binomial interval works on the passes and the tags themselves: it asks how likely so few misses would be at the limit if misses of one pass go together, and it does not trust one correlation but tries sixteen, from the one assumed at the least up to one and a half times the square root of miss rate times read rate, or up to what the log itself shows. Each is weighed with how the misses were seen to lie: together in one pass, or apart.";

const when =
  "Use it for signing off unless you know from earlier walks how alike your passes are. Wilson and exact keep their meaning, and do where a scatter of one unit on the logit scale, which 0.02 stands for at 99\u202f%, is all there is: of simulated read points that only just keep their limit they sign off at most 4.3 in 100 then, and this one 2.3; where passes and tags scatter by 1.5 units they come to 8.5, and this one to 3.9 (2.5 is what the confidence promises). With a miss_correlation raised to what was measured they hold as well, at a higher price than this one. No interval here sees what was not walked: if the worst kind of pass never came up, no figure knows of it.";

/** When to use the beta-binomial interval, what it costs, and whether this report uses it. */
export function clusteredWords(interval: string): {
  what: string;
  when: string;
  sample: string | null;
} {
  const here = interval === "beta-binomial" ? "This report uses it." : "This report does not use it.";
  return {
    what: together,
    when: `${when} ${here}`,
    sample: sampleWords(interval),
  };
}

/** Where the effective sample of a report is not simply the smallest of the three numbers. */
function sampleWords(interval: string): string | null {
  if (interval === "any-time")
    return "This report uses the any-time interval, which takes the second number with the correlation that belongs to the rate under test. The effective sample printed in its tables is the one at its lower bound, or at its upper one where less than half was read. The differences between rounds use the three numbers as they stand.";
  return interval === "beta-binomial"
    ? "This report uses the beta-binomial interval, which does not start from these three numbers. The effective sample printed in its tables is read off the result: how many independent presentations would give the same lower bound by Clopper and Pearson. The differences between rounds do use the three numbers."
    : null;
}

/** Passes without a miss that show a rate, each tag walked once; the tests work the numbers out anew. */
export const clusteredPrices = [
  { rate: 0.99, tags: 20, wilson: 27, exact: 26, clustered: 32, anyTime: 32, raised: 56 },
  { rate: 0.99, tags: 40, wilson: 17, exact: 17, clustered: 22, anyTime: 21, raised: 47 },
  { rate: 0.97, tags: 20, wilson: 9, exact: 9, clustered: 14, anyTime: 16, raised: 19 },
  { rate: 0.97, tags: 40, wilson: 6, exact: 6, clustered: 10, anyTime: 13, raised: 16 },
  { rate: 0.95, tags: 20, wilson: 6, exact: 5, clustered: 10, anyTime: 13, raised: 11 },
  { rate: 0.95, tags: 40, wilson: 4, exact: 4, clustered: 8, anyTime: 10, raised: 9 },
];
