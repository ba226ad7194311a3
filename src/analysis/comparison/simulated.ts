import simulated from "./simulated.json" with { type: "json" };

/** A setting of the simulation in which nothing but the day differs between two rounds. */
export interface OtherDay {
  trueRate: number;
  passes: number;
  tags: number;
  /** Of each round. */
  sessions: number;
}

/**
 * In how many of 100 comparisons two equal rounds are called changed because days differ by half a unit on the logit scale,
 * as a text: what the bench found, from the file that it writes.
 */
export function changedByDay({ trueRate, passes, tags, sessions }: OtherDay): string {
  const found = simulated.dayEffects.find(
    (one) =>
      one.trueRate === trueRate && one.passes === passes && one.tags === tags && one.sessions === sessions,
  );
  if (found === undefined) throw new Error(`No simulation of other days at ${trueRate}, ${passes} x ${tags}`);
  return (found.highest * 100).toFixed(0);
}
