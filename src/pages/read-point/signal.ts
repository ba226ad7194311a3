import type { RoundResult } from "../../analysis/result.ts";
import { counted, countText, decimalText, thinSpace } from "../words/numbers.ts";

export interface Signal {
  sentence: string;
  /** Weakest, 5 %, median, 95 %, strongest; empty where no RSSI was recorded. */
  figures: { label: string; value: string }[];
  antennas: { antenna: string; tagsRead: string; medianDbm: string }[];
  antennaSentence: string;
}

/** How strongly the tags that were read were heard, and by which antenna. */
export function signal(round: RoundResult): Signal {
  const { rssi, antennas, tagsRead } = round;
  return {
    sentence: signalSentence(round),
    figures:
      rssi === null
        ? []
        : [
            { label: "Weakest", value: dbmText(rssi.minDbm) },
            { label: `5${thinSpace}% at or below`, value: dbmText(rssi.q05Dbm) },
            { label: "Median", value: dbmText(rssi.medianDbm) },
            { label: `95${thinSpace}% at or below`, value: dbmText(rssi.q95Dbm) },
            { label: "Strongest", value: dbmText(rssi.maxDbm) },
          ],
    antennas: antennas.map(({ antenna, tagsRead: read, medianRssiDbm }) => ({
      antenna,
      tagsRead: countText(read),
      medianDbm: medianRssiDbm === null ? "not recorded" : dbmText(medianRssiDbm),
    })),
    antennaSentence:
      antennas.length === 0
        ? "The logs of this round name no antenna."
        : `The logs name ${counted(antennas.length, "antenna", "antennas")}: ${antennas
            .map(({ antenna, tagsRead: read }) => `${antenna} read ${countText(read)}`)
            .join(", ")} of ${counted(tagsRead, "tag read", "tags read")}.`,
  };
}

function signalSentence({ rssi, tagsRead }: RoundResult): string {
  if (tagsRead === 0) return "No tag was read in this round, so there is no signal to show.";
  if (rssi === null) return "The logs of this round record no signal strength.";
  const half = `half of them at ${dbmText(rssi.medianDbm)} or stronger`;
  const part =
    rssi.n < tagsRead
      ? ` Signal strength is recorded for ${countText(rssi.n)} of ${countText(tagsRead)} reads.`
      : "";
  return `The tags that were read were heard at ${dbmText(rssi.minDbm)} to ${dbmText(rssi.maxDbm)}, ${half}.${part} Missed tags have no signal and are not in this picture.`;
}

function dbmText(dbm: number): string {
  return `${decimalText(dbm, 1)}${thinSpace}dBm`;
}
