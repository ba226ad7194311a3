import { counted, countText } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result.ts";

/** `24 passes, 2 void`; `not walked` where there is none. */
export function passCount(round: Pick<RoundResult, "passes" | "voidPasses" | "passList">): string {
  if (round.passList.length === 0) return "not walked";
  const valid = counted(round.passes, "pass", "passes");
  return round.voidPasses === 0 ? valid : `${valid}, ${countText(round.voidPasses)} void`;
}
