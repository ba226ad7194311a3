import simulated from "./simulated.json" with { type: "json" };

/**
 * How many of 100 simulated read points that only just fail their limit an interval signs off at the most, as a text: the
 * highest of all settings in which passes and tags scatter by up to `scatter` units on the logit scale. What the bench
 * found, from the file that it writes.
 */
export function inHundred(scatter: number, interval: string): string {
  const found = simulated.wrongSignOffs.find((one) => one.scatter === scatter && one.rule === interval);
  if (found === undefined) throw new Error(`No simulation of ${interval} at a scatter of ${scatter}`);
  return (found.highest * 100).toFixed(1);
}
