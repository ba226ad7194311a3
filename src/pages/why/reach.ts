import type { Reach, Why } from "../../model/diagnosis/why.ts";
import { decimalText, nonEmpty, statedNumber, thinSpace } from "../../model/number-words.ts";
import { countOfColumns, decimalColumn, yesNoColumn } from "../parts/columns.ts";
import { type Column, type Section, tableFigure } from "../parts/figure.ts";
import type { WhyContext } from "./why-context.ts";

type Distance = Reach["distances"][number];

const metres = (value: number) => `${decimalText(value, 1)}${thinSpace}m`;

/** How far tags were read, against how far the settings should reach. */
export function reach(found: Why["reach"], { files }: WhyContext): Section | null {
  if (found === undefined) return null;
  const { rangeM, eirpDbm, frequencyMhz, tagGainDbi, tagThresholdDbm, isTagStated, distances, reachedM } =
    found;
  const farthest = distances.at(-1)!.distanceM;
  const walked =
    reachedM === farthest
      ? `At ${statedNumber(farthest)}${thinSpace}m, the farthest that was walked, at least half of the tags were still read.`
      : reachedM === null
        ? "At no distance walked was half of the tags read."
        : `The farthest at which half of the tags were read is ${statedNumber(reachedM)}${thinSpace}m, of ${statedNumber(farthest)}${thinSpace}m walked.`;
  const short = distances.filter((one) => one.short);
  return {
    id: "reach",
    title: "Reach",
    sentences: nonEmpty([
      `In free space ${decimalText(eirpDbm, 1)}${thinSpace}dBm EIRP at ${statedNumber(frequencyMhz)}${thinSpace}MHz should reach ${metres(rangeM)}, to a tag of ${statedNumber(tagGainDbi)}${thinSpace}dBi that needs ${statedNumber(tagThresholdDbm)}${thinSpace}dBm${isTagStated ? "" : " (a usual tag, from memory)"}. ${walked}`,
      short.length === 0
        ? ""
        : "More than half missed with 3\u202fdB and more to spare points at a cable, a polarisation or a detuned tag.",
      `Plausibility only: goods, floors and people fade a signal by 8${thinSpace}dB and more. A check value: a good fixed reader at its full 31.5${thinSpace}dBm reads beyond 30${thinSpace}ft (9.1${thinSpace}m): common practice, no source.`,
    ]),
    tables: [
      tableFigure<Distance>({
        id: "reach-distances",
        caption: "Tags read at each distance, and what free space leaves to spare there.",
        howToRead: "",
        columns: columns(),
        rows: distances,
        tableCaption: "Tags read by distance",
        mostRows: 20,
        file: files("why-reach", "tags read at each distance, and what free space leaves to spare there."),
      }),
    ],
  };
}

function columns(): Column<Distance>[] {
  return [
    {
      header: "distance_m",
      value: ({ distanceM }) => distanceM,
      label: "Distance, m",
      text: ({ distanceM }) => statedNumber(distanceM),
    },
    ...countOfColumns<Distance>(
      { headers: ["read", "presented"], label: "Read" },
      ({ presented, missed }) => ({ k: presented - missed, n: presented }),
    ),
    decimalColumn(
      { header: "spare_db", label: "To spare, dB", as: "strong number" },
      ({ spareDb }) => spareDb,
    ),
    yesNoColumn({ header: "short", label: "Falls short" }, ({ short }) => short),
  ];
}
