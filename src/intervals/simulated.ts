import simulated from "./simulated.json" with { type: "json" };

/* What the bench found, from the file that it writes, as texts. */

/**
 * How many of 100 simulated read points that only just miss their limit an interval signs off at the most: the
 * highest of all settings in which passes and tags scatter by up to `scatter` units on the logit scale.
 */
export function inHundred(scatter: number, interval: string): string {
  const found = simulated.wrongSignOffs.find((one) => one.scatter === scatter && one.rule === interval);
  if (found === undefined) throw new Error(`No simulation of ${interval} at a scatter of ${scatter}`);
  return perHundred(found.highest);
}

/**
 * The highest of all scatters up to one, with how many walks were simulated of each setting: `at most 0.3 in 100`, or `none` where no
 * walk was signed off.
 */
export function upTo(scatter: number, interval: string): { share: string; walks: number } {
  const found = simulated.wrongSignOffs.filter((one) => one.rule === interval && one.scatter <= scatter);
  const [highest, walks] = [
    Math.max(...found.map((one) => one.highest)),
    Math.min(...found.map((one) => one.walks)),
  ];
  return { share: highest === 0 ? "none" : `at most ${perHundred(highest)} in 100`, walks };
}

/** The same of a family of harder walks, by a word of its name. */
export function inHundredOf(family: string, rule: string): string {
  return perHundred(familyOf(family, rule).highest);
}

/** Walks of each setting of a family. */
export function walksOf(family: string, rule: string): number {
  return familyOf(family, rule).walks;
}

function familyOf(family: string, rule: string) {
  const found = simulated.hardWalks.filter((one) => one.rule === rule && one.family.includes(family));
  if (found.length === 0) throw new Error(`No simulation of ${rule} for ${family}`);
  return found.reduce((worst, one) => (one.highest > worst.highest ? one : worst));
}

/**
 * Of 100 power logs whose margin lies exactly at its limit, how many are met at the most, if one tag in twenty takes so many dB more than
 * the others.
 */
export function powerLogsInHundred(weakDb: number): string {
  const found = simulated.powerLogs.filter((one) => one.weakDb === weakDb);
  if (found.length === 0)
    throw new Error(`No simulation of power logs with tags that are ${weakDb} dB weaker`);
  return perHundred(Math.max(...found.map(({ wronglyMet }) => wronglyMet)));
}

/**
 * Of 100 walks whose signal strength lies exactly at its limit, how many are met at the most, if the same tags go through in every pass, or
 * others in each.
 */
export function signalInHundred(isSameTags: boolean): string {
  const found = simulated.signals.filter((one) => one.isSameTags === isSameTags);
  return perHundred(Math.max(...found.map(({ wronglyMet }) => wronglyMet)));
}

/** How many of them are met without a remark, at the most of all settings. */
export const signalWithoutRemark = perHundred(
  Math.max(...simulated.signals.map(({ withoutRemark }) => withoutRemark)),
);

/** Whoever looks after every pass: how soon a very good read point is met, beside a walk that is judged once. */
export const untilMet = {
  meanPasses: simulated.untilMet.mean.toFixed(0),
  medianPasses: simulated.untilMet.median,
  fixedPasses: simulated.untilMet.fixedPasses,
  fixedMetInHundred: (simulated.untilMet.fixedMet * 100).toFixed(0),
  /** Without a miss. */
  fewestPasses: simulated.untilMet.fewest[0]!,
  fewestPassesFixed: simulated.untilMet.fewest[1]!,
  fewestIndependent: simulated.untilMet.fewestIndependent[0]!,
  fewestIndependentFixed: simulated.untilMet.fewestIndependent[1]!,
};

/** Rounded up, since it is what an interval does at the most. */
function perHundred(share: number): string {
  return (Math.ceil(Number((share * 1000).toPrecision(9))) / 10).toFixed(1);
}
