import { counted, countText } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result.ts";
import type { Link } from "../page.ts";
import type { Figure } from "../tables/read-point-tables.ts";
import { antennasAlone } from "./antennas-alone.ts";
import { firstReads } from "./first-reads.ts";
import type { HeardPart } from "./heard-part.ts";
import { idleReads } from "./idle-reads.ts";
import { readsPerTag } from "./reads-per-tag.ts";
import { signalByAntenna } from "./signal-by-antenna.ts";
import { straysHeard } from "./strays-heard.ts";

interface HeardView {
  sentence: string;
  parts: HeardPart[];
}

/** What the reader's own log shows of the round judged; null where there is none. */
export function heardView(round: RoundResult, downloadsOf: (figure: Figure) => Link[]): HeardView | null {
  const { heard } = round;
  if (heard === null) return null;
  const timed = round.passList.filter(({ form, voidReason }) => form === "timed" && voidReason === null);
  const read = `${countText(heard.tagsRead)} of ${counted(heard.tagsPresented, "tag", "tags")} presented were read`;
  return {
    sentence: `From the reader's own log, over ${counted(timed.length, "valid timed pass", "valid timed passes")}: ${read}.`,
    parts: [
      readsPerTag(heard, downloadsOf("heard-reads")),
      signalByAntenna(heard, downloadsOf("heard-signal")),
      antennasAlone(heard, downloadsOf("heard-antennas")),
      firstReads(heard, timed, downloadsOf("heard-first-read")),
      straysHeard(heard, downloadsOf("heard-strays")),
      idleReads(heard, round.passList, downloadsOf("heard-idle")),
    ],
  };
}
