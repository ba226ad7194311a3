import type { MeasureId } from "../../model/facility.ts";
import { measureTitle } from "../words/measures.ts";

/** What a measure counts, in words. */
export interface MeasureCard {
  title: string;
  counts: string;
  of: string;
  used: boolean;
}

const texts: [MeasureId, string, string][] = [
  ["tag-read-rate", "tags that were read", "tags presented, each once for every pass it was presented in"],
  ["complete-pass-rate", "passes in which every presented tag was read", "passes that presented a tag"],
  [
    "stray-pass-rate",
    "passes in which a tag was read that had not been presented",
    "passes whose log records strays at all; the others are left out and counted in a remark",
  ],
  ["bystander-read-rate", "bystanders that were read although they must not be", "bystander presentations"],
  [
    "agreement-rate",
    "passes in which what was observed equals what was expected, direction for instance",
    "passes for which something was expected",
  ],
  [
    "rssi-quantile",
    "the strongest signal of each presentation, and of these the value that a stated share lies at or below",
    "presentations; a missed one ranks below every one that was read",
  ],
  [
    "idle-read-rate",
    "tags heard while no pass was under way, each once in every minute that heard it",
    "minutes between the timed passes of the round; other passes do not say when nothing was under way",
  ],
];

/** All measures, with those marked that this facility's criteria use. */
export function measureCards(used: Set<MeasureId>): MeasureCard[] {
  return texts.map(([measure, counts, of]) => ({
    title: measureTitle(measure),
    counts,
    of,
    used: used.has(measure),
  }));
}
