/** The first and the last seed of a family of settings; each setting has its own. */
export type Seeds = [first: number, last: number];

/** The highest share of a family of settings. */
export interface Share {
  settings: number;
  seeds: Seeds;
  /** Walks, or comparisons, of each setting. */
  walks: number;
  /** 0..1. */
  highest: number;
  /** Of the highest share: the standard error of the simulation. */
  standardError: number;
  /** The setting that has it. */
  where: string;
}

export function highestShare(
  counts: readonly { where: string; count: number }[],
  walks: number,
  seeds: Seeds,
): Share {
  const worst = counts.reduce((so, one) => (one.count > so.count ? one : so));
  const highest = worst.count / walks;
  return {
    settings: counts.length,
    seeds,
    walks,
    highest,
    standardError: Number(Math.sqrt((highest * (1 - highest)) / walks).toPrecision(3)),
    where: worst.where,
  };
}

/** `highest 2.00 %, standard error 0.16 (99 %, 200 x 100); 12 settings, 4000 walks each, seeds 1 to 12`. */
export function shareLine({ settings, seeds, walks, highest, standardError, where }: Share): string {
  const [first, last] = seeds;
  return `highest ${(highest * 100).toFixed(2)} %, standard error ${(standardError * 100).toFixed(2)} (${where}); ${settings} settings, ${walks} each, seeds ${first} to ${last}`;
}

/** Says the lines of a table as they come, and returns what it found. */
export function said<Found>(table: Generator<string, Found>, say: (line: string) => void): Found {
  for (;;) {
    const next = table.next();
    if (next.done) return next.value;
    say(next.value);
  }
}
