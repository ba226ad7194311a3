import type { Round } from "../../model/facility.ts";
import { countedInWords, sentenceStart } from "../../model/number-words.ts";
import type { Remark } from "../../model/result.ts";

/** A remark of the analysis as a sentence. */
export function remarkSentence(remark: Remark, rounds: Round[] = []): string {
  switch (remark.code) {
    case "no-criterion":
      return "No criterion covers this read point, so nothing was judged here.";
    case "no-value-walked":
      return "A criterion covers this read point for each value of a condition, and none was walked yet.";
    case "one-cluster":
      return remark.dimension === "tag"
        ? "All presentations are of one tag: how other tags would fare is not in the evidence."
        : "All presentations lie in one pass: how other passes would fare is not in the evidence.";
    case "forms-mixed":
      return "Some logs name no tags, so tags that fail again and again are not allowed for; passes are.";
    case "strays-not-recorded":
      return `${left(remark.passes)} left out: the log does not record strays.`;
    case "rssi-not-recorded":
      return `${left(remark.passes)} left out: the log does not record signal strength.`;
    case "own-round": {
      const title = rounds.find((round) => round.id === remark.round)?.title ?? remark.round;
      return `Judged on its own round, ${title}, and not on the facility's.`;
    }
  }
}

function left(passes: number): string {
  return sentenceStart(countedInWords(passes, "pass was", "passes were"));
}
