import type { Antenna, Why } from "../../model/diagnosis/why.ts";
import { counted, decimalText, joined, nonEmpty, thinSpace } from "../../model/number-words.ts";
import { countColumn, decimalColumn } from "../parts/columns.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { stateMark } from "../parts/state-mark.ts";
import { stateWord } from "../words/verdicts.ts";
import type { WhyContext } from "./why-context.ts";

/** What each antenna read, what would be lost without it, and which has grown weaker. */
export function antennas(found: Why["antennas"], { names, files }: WhyContext): Section | null {
  if (found === null || found.length === 0) return null;
  const silent = found.filter(({ silent }) => silent).map(({ antenna }) => antenna);
  const weaker = found.filter(({ change }) => change?.weaker);
  const known = found.flatMap((one) => (one.alone === null ? [] : [{ ...one, alone: one.alone }]));
  const most = known.reduce<(typeof known)[number] | null>(
    (best, one) => (best === null || one.alone > best.alone ? one : best),
    null,
  );
  const change = ({ change }: Antenna) =>
    change === null ? "" : `${change.changeDb > 0 ? "+" : ""}${decimalText(change.changeDb, 1)}`;
  const sentences = nonEmpty([
    silent.length === 0
      ? ""
      : `${silent.length === 1 ? "Antenna" : "Antennas"} ${joined(silent)} read nothing in this round.`,
    ...weaker.map(
      ({ antenna, change }) =>
        `Antenna ${antenna} is ${decimalText(Math.abs(change!.changeDb), 1)}${thinSpace}dB weaker than in ${names.round(change!.round)}, more than its scatter of ${decimalText(change!.scatterDb, 1)}${thinSpace}dB.`,
    ),
    most === null
      ? ""
      : most.alone === 0
        ? "Every tag read was read by more than one antenna."
        : `Without antenna ${most.antenna}, ${counted(most.alone, "further presentation", "further presentations")} would have been missed${most.stateWithout === null ? "" : `, and the read point would come out as ${stateWord(most.stateWithout)}`}.`,
  ]);
  const changed = found.some(({ change }) => change !== null);
  return {
    id: "antennas",
    title: "What each antenna adds",
    sentences,
    tables: [
      tableFigure<Antenna>({
        id: "why-antennas",
        caption: "What each antenna read, and what would be lost without it.",
        howToRead:
          "Read alone: presentations that no other antenna read. The state without it is what the criteria would come to if those had been missed.",
        columns: [
          {
            header: "antenna",
            value: ({ antenna }) => antenna,
            label: "Antenna",
            text: ({ antenna }) => `Antenna ${antenna}`,
          },
          countColumn({ header: "read", label: "Tags read" }, ({ heard }) => heard),
          { header: "reads", value: ({ reads }) => reads },
          countColumn({ header: "alone", label: "Read alone", as: "strong number" }, ({ alone }) => alone),
          {
            header: "state_without",
            value: ({ stateWithout }) => stateWithout,
            label: "Without it",
            text: ({ stateWithout }) =>
              stateWithout === null ? "not known" : { mark: stateMark(stateWithout) },
          },
          decimalColumn({ header: "median_dbm", label: "Median, dBm" }, ({ medianDbm }) => medianDbm),
          { header: "change_db", value: ({ change }) => change?.changeDb ?? null },
          { header: "scatter_db", value: ({ change }) => change?.scatterDb ?? null },
          ...(changed ? [{ label: "Since the round before, dB", text: change, as: "number" as const }] : []),
        ],
        rows: found,
        tableCaption: "What each antenna adds",
        mostRows: 40,
        file: files("why-antennas", "what each antenna read, and what would be lost without it."),
      }),
    ],
  };
}
