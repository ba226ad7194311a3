import { intervals } from "../../src/intervals/index.ts";
import type { Limit } from "../../src/intervals/interval.ts";
import type { ClusteredSample } from "../../src/statistics/effective-sample.ts";
import { countsByPass, type ReadPointModel, seededStream, walker } from "./walk-model.ts";

/** Every presentation taken as independent, by the Wilson interval. */
const naive = "naive Wilson";
/** Looked at after every pass; the others once, at the end. */
const atEveryPass = "any-time";

/** The naive rule, and every interval by its id. */
export const rules: readonly string[] = [naive, ...intervals.ids()];

export interface WrongSignOffs {
  model: ReadPointModel;
  walks: number;
  /** By rule: walks that ended in met, or that were met at any look. */
  met: Record<string, number>;
}

/**
 * Walks a read point whose true rate is the limit again and again, and counts how often each of the rules signs it off.
 */
export function wrongSignOffs(
  model: ReadPointModel,
  walks: number,
  {
    seed,
    missCorrelation = 0.02,
    of = rules,
  }: { seed: number; missCorrelation?: number; of?: readonly string[] },
): WrongSignOffs {
  const settings = { confidence: 0.95, missCorrelation };
  const limit: Limit = { sense: "at-least", limit: model.trueRate };
  const walk = walker(model, seededStream(seed));
  const met = Object.fromEntries(of.map((rule) => [rule, 0]));
  const isMet = (id: string, sample: ClusteredSample) =>
    intervals.get(id).decide(sample, limit, settings) === "met";
  const independent = (id: string) =>
    remembered(
      ({ n, k }) => n * 1e5 + k,
      ({ n, k }) => k / n > model.trueRate && isMet(id, { n, k, clusterings: [] }),
    );
  // An effective sample is never larger than the sample: where all presentations taken as independent are not enough,
  // there is nothing to work out.
  const [naiveWilson, naiveExact] = [independent("wilson"), independent("exact")];
  const judges = of.map((rule) => {
    if (rule === naive)
      return { rule, isSignedOff: (looks: ClusteredSample[]) => naiveWilson(looks.at(-1)!) };
    const couldBe = rule === "wilson" ? naiveWilson : naiveExact;
    const verdict = remembered(layoutKey, (sample) => isMet(rule, sample));
    const judge = (sample: ClusteredSample) => couldBe(sample) && verdict(sample);
    return {
      rule,
      isSignedOff: (looks: ClusteredSample[]) =>
        rule === atEveryPass ? looks.some(judge) : judge(looks.at(-1)!),
    };
  });
  for (let i = 0; i < walks; i += 1) {
    const looks = countsByPass(walk(), model.tags);
    for (const { rule, isSignedOff } of judges) if (isSignedOff(looks)) met[rule]! += 1;
  }
  return { model, walks, met };
}

const layoutKey = ({ n, k, clusterings }: ClusteredSample) =>
  [n, k, ...clusterings.map(({ layout }) => layout().failing.join(";"))].join(" ");

/** Walks with the same counts come to the same verdict, and few misses make few different counts. */
function remembered(
  keyOf: (sample: ClusteredSample) => string | number,
  judge: (sample: ClusteredSample) => boolean,
): (sample: ClusteredSample) => boolean {
  const known = new Map<string | number, boolean>();
  return (sample) => {
    const key = keyOf(sample);
    let answer = known.get(key);
    if (answer === undefined) {
      answer = judge(sample);
      known.set(key, answer);
    }
    return answer;
  };
}
