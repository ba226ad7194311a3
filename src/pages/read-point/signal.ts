import { measures } from "../../measures/index.ts";
import { dbm } from "../../measures/scales.ts";
import { counted, countText, decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult, RssiSummary } from "../../model/result/round.ts";
import { countColumn, statedColumn } from "../parts/columns.ts";
import { type CsvTable, csvTable, type TableFiles } from "../parts/csv.ts";
import { type Figure, type FigureView, figure } from "../parts/figure.ts";
import { rssiHistogramPicture } from "../pictures/bars.ts";
import { levelText } from "../words/figures.ts";

/** The RSSI limits asked at a read point, in dBm. */
export function rssiLimits({ criteria }: Result, readPoint: string): number[] {
  const limits = criteria
    .filter(
      ({ measure, readPoints }) => measures.get(measure).scale === dbm && readPoints.includes(readPoint),
    )
    .map(({ limit }) => limit);
  return [...new Set(limits)];
}

/** The signal strength of the tags that were read; null where no RSSI was recorded. */
export function signalFigure(
  round: RoundResult,
  limitsDbm: number[],
  files: TableFiles,
): Figure<FigureView> | null {
  const { rssi } = round;
  if (rssi === null) return null;
  const caption = signalSentence(round);
  return figure<RssiSummary["bins"][number]>({
    id: "rssi",
    caption,
    howToRead: `Each bar counts the tags whose strongest read falls in a step of ${statedNumber(rssi.binWidthDb)}${thinSpace}dB. Further right is stronger. Missed tags are not included.`,
    picture: () =>
      rssiHistogramPicture({
        id: "rssi-histogram",
        title: "Strongest signal of the tags read",
        description: caption,
        rssi,
        limitsDbm,
      }),
    tableCaption: "Tags read by strongest signal",
    columns: [
      {
        header: "from_dbm",
        value: ({ fromDbm }) => fromDbm,
        label: "From, dBm",
        text: ({ fromDbm }) => statedNumber(fromDbm),
      },
      statedColumn({ header: "below_dbm", label: "Below, dBm" }, ({ fromDbm }) => fromDbm + rssi.binWidthDb),
      countColumn({ header: "tags_read", label: "Tags read" }, ({ count }) => count),
    ],
    rows: rssi.bins,
    file: files("rssi", "strongest RSSI of the tags read, counted in steps."),
  });
}

/** The antennas that the logs name, as a file. */
export function antennasFile({ antennas }: RoundResult, files: TableFiles): CsvTable {
  return csvTable(
    files("antennas", "tags read by antenna."),
    [
      { header: "antenna", value: ({ antenna }) => antenna },
      { header: "tags_read", value: ({ tagsRead }) => tagsRead },
      { header: "median_rssi_dbm", value: ({ medianRssiDbm }) => medianRssiDbm },
    ],
    antennas,
  );
}

export interface SignalView {
  /** Null where no RSSI was recorded; the sentence says so. */
  figure: FigureView | null;
  sentence: string;
  antennas: { antenna: string; tagsRead: string; medianDbm: string }[];
  antennaSentence: string;
}

export function signalView(round: RoundResult, figure: FigureView | null): SignalView {
  return {
    figure,
    sentence: figure === null ? signalSentence(round) : "",
    antennas: round.antennas.map(({ antenna, tagsRead, medianRssiDbm }) => ({
      antenna,
      tagsRead: countText(tagsRead),
      medianDbm: medianRssiDbm === null ? "not recorded" : decimalText(medianRssiDbm, 1),
    })),
    antennaSentence: antennaSentence(round),
  };
}

function signalSentence({ rssi, tagsRead }: RoundResult): string {
  if (tagsRead === 0) return "No tag was read in this round, so there is no signal strength to show.";
  if (rssi === null) return "The logs of this round do not record signal strength.";
  const part =
    rssi.n < tagsRead
      ? ` Signal strength is recorded for ${countText(rssi.n)} of ${countText(tagsRead)} tags read.`
      : "";
  return `The strongest reads of the tags lie between ${levelText(rssi.minDbm)} and ${levelText(rssi.maxDbm)}, half of them at ${levelText(rssi.medianDbm)} or stronger.${part}`;
}

function antennaSentence({ antennas, passes }: RoundResult): string {
  if (passes === 0) return "No valid pass was walked in this round, so there are no reads by antenna.";
  if (antennas.length === 0) return "The logs of this round do not name the antennas.";
  return `The logs name ${counted(antennas.length, "antenna", "antennas")}. Each tag read counts for the antenna that the log names.`;
}
