import { measures } from "../../measures/index.ts";
import { dbm } from "../../measures/scales.ts";
import { counted, countText, decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";
import type { Result, RoundResult, RssiSummary } from "../../model/result.ts";
import { type FigureView, numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import { rssiHistogramPicture } from "../pictures/bars.ts";

export interface Signal {
  /** Null where no RSSI was recorded; the sentence says so. */
  figure: FigureView | null;
  sentence: string;
  antennas: { antenna: string; tagsRead: string; medianDbm: string }[];
  antennaSentence: string;
}

/** How strongly the tags that were read were heard, and by which antenna. */
export function signal(result: Result, readPoint: string, round: RoundResult, downloads: Link[]): Signal {
  const { rssi, antennas } = round;
  return {
    figure:
      rssi === null
        ? null
        : signalFigure(rssi, limitsOf(result, readPoint), signalSentence(round), downloads),
    sentence: rssi === null ? signalSentence(round) : "",
    antennas: antennas.map(({ antenna, tagsRead, medianRssiDbm }) => ({
      antenna,
      tagsRead: countText(tagsRead),
      medianDbm: medianRssiDbm === null ? "not recorded" : decimalText(medianRssiDbm, 1),
    })),
    antennaSentence: antennaSentence(round),
  };
}

/** The RSSI limits asked at this read point, in dBm. */
function limitsOf(result: Result, readPoint: string): number[] {
  const limits = result.criteria
    .filter(
      ({ measure, readPoints }) => measures.get(measure).scale === dbm && readPoints.includes(readPoint),
    )
    .map(({ limit }) => limit);
  return [...new Set(limits)];
}

function signalFigure(
  rssi: RssiSummary,
  limitsDbm: number[],
  caption: string,
  downloads: Link[],
): FigureView {
  return {
    id: "rssi",
    caption,
    howToRead: `Each bar counts the tags whose strongest read lies in a step of ${statedNumber(rssi.binWidthDb)}${thinSpace}dB. Further right is stronger. Missed tags were not heard and are not in it.`,
    picture: rssiHistogramPicture({
      id: "rssi-histogram",
      title: "Strongest signal of the tags read",
      description: caption,
      rssi,
      limitsDbm,
    }),
    table: {
      caption: "Tags read by strongest signal",
      columns: [
        { label: "From, dBm", numeric: false },
        { label: "Below, dBm", numeric: true },
        { label: "Tags read", numeric: true },
      ],
      rows: rssi.bins.map((bin) => [
        textCell(statedNumber(bin.fromDbm)),
        numberCell(statedNumber(bin.fromDbm + rssi.binWidthDb)),
        numberCell(countText(bin.count)),
      ]),
    },
    downloads,
  };
}

function signalSentence({ rssi, tagsRead }: RoundResult): string {
  if (tagsRead === 0) return "No tag was read in this round, so there is no signal to show.";
  if (rssi === null) return "The logs of this round record no signal strength.";
  const part =
    rssi.n < tagsRead
      ? ` Signal strength is recorded for ${countText(rssi.n)} of ${countText(tagsRead)} tags read.`
      : "";
  return `The tags that were read were heard at ${dbmText(rssi.minDbm)} to ${dbmText(rssi.maxDbm)}, half of them at ${dbmText(rssi.medianDbm)} or stronger.${part}`;
}

function antennaSentence({ antennas, passes }: RoundResult): string {
  if (passes === 0) return "No valid pass was walked in this round, so no antenna read anything.";
  if (antennas.length === 0) return "The logs of this round name no antenna.";
  return `The logs name ${counted(antennas.length, "antenna", "antennas")}. A tag counts for the one that the log names with its read.`;
}

function dbmText(dbm: number): string {
  return `${decimalText(dbm, 1)}${thinSpace}dBm`;
}
