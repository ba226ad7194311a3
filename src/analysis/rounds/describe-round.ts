import { measures } from "../../measures/index.ts";
import type { RoundRates } from "../../measures/measure.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { presentationRows, type ReadPointRound, select, type WalkedFacility } from "../../model/rows.ts";
import { ratesByCondition, type ShownCondition } from "./by-condition.ts";
import { summariseHeard } from "./heard-summary.ts";
import { listPasses, rankMissedTags } from "./passes.ts";
import { describeSignal } from "./signal.ts";

/** What one round showed at one read point, over every pass made there; nothing walked gives zeros and no rates. */
export function describeRound(
  walked: WalkedFacility,
  place: ReadPointRound,
  conditions: ShownCondition[],
): RoundResult {
  const { log, index } = walked;
  const passes = index.passesAt(place);
  const valid = passes.filter((pass) => log.passes[pass]!.voidReason === null);
  const presented = presentationRows(select(walked, place));
  const rates = ratesOf(walked, place);
  const { tagReadRate } =
    valid.length === passes.length ? rates : ratesOf(walked, place, { withVoids: true, only: "tagReadRate" });
  return {
    id: place.round,
    passes: valid.length,
    voidPasses: passes.length - valid.length,
    tagsPresented: rates.tagReadRate.n,
    tagsRead: rates.tagReadRate.k,
    ...rates,
    withVoids: { tagsPresented: tagReadRate.n, tagsRead: tagReadRate.k, tagReadRate },
    ...ratesByCondition(walked, conditions, presented),
    ...describeSignal(presented, log),
    heard: summariseHeard(walked, place),
    missedTags: rankMissedTags(presented, log),
    passList: listPasses(walked, place),
  };
}

/** The rates that every round has, asked for or not. */
function ratesOf<Key extends keyof RoundRates>(
  walked: WalkedFacility,
  place: ReadPointRound,
  { withVoids = false, only = null }: { withVoids?: boolean; only?: Key | null } = {},
): Pick<RoundRates, Key> {
  const selection = select(walked, place, { withVoids });
  const rates = measures.all().flatMap(({ everyRound, collect }) => {
    if (everyRound === undefined || (only !== null && everyRound.key !== only)) return [];
    return [[everyRound.key, collect(selection, {}).estimate(walked.facility)]];
  });
  return Object.fromEntries(rates);
}
