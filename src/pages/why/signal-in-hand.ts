import type { Why } from "../../model/diagnosis/why.ts";
import { countText, decimalText, thinSpace } from "../../model/number-words.ts";
import { countColumn, countOfColumns, decimalColumn, textColumn } from "../parts/columns.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { wholePercent } from "../words/evidence.ts";
import { levelText } from "../words/figures.ts";
import type { WhyContext } from "./why-context.ts";

type Signal = NonNullable<Why["signal"]>;
type Group = Signal["all"] & { group: string };
type Step = Signal["readByLevel"][number];

const dBm = (level: number) => decimalText(level, 1);

/** How far the tags read were above what the reader can decode. */
export function signalInHand(signal: Why["signal"], { names, files }: WhyContext): Section | null {
  if (signal === null || signal.all.n === 0) return null;
  const groups: Group[] = [
    { ...signal.all, group: "All" },
    ...signal.byAntenna.map(({ antenna, ...levels }) => ({ ...levels, group: `Antenna ${antenna}` })),
    ...signal.byCondition.map(({ column, value, ...levels }) => ({
      ...levels,
      group: names.group({ [column]: value }),
    })),
  ];
  return {
    id: "signal",
    title: "Signal in hand",
    sentences: [levelSentence(signal)],
    tables: [
      levelTable(groups, files),
      ...(signal.readByLevel.length === 0 ? [] : [stepTable(signal.readByLevel, files)]),
    ],
  };
}

function levelSentence({ all, q05LowerDbm, inHandDb, weakestDecodedDbm }: Signal): string {
  if (all.q05Dbm === null) return `The weakest read in the log is ${levelText(weakestDecodedDbm)}.`;
  const bound = q05LowerDbm === null ? "" : ` (at least ${levelText(q05LowerDbm)})`;
  const hand =
    inHandDb === null
      ? ""
      : `, ${decimalText(inHandDb, 1)}${thinSpace}dB above the weakest read in the log, ${levelText(weakestDecodedDbm)}`;
  return `Of the ${countText(all.n)} tags read, 95${thinSpace}% answered at ${levelText(all.q05Dbm)} or stronger${bound}${hand}.`;
}

function levelTable(rows: Group[], files: WhyContext["files"]) {
  return tableFigure({
    id: "signal-levels",
    caption: "The strongest read of each tag in each pass, by antenna and condition.",
    howToRead: `The column 5${thinSpace}% is the level that all but the weakest twentieth reach. Missed tags have no level and are not included.`,
    columns: [
      textColumn<Group>({ header: "group", label: "Tags read" }, ({ group }) => group),
      countColumn<Group>({ header: "reads", label: "Count" }, ({ n }) => n),
      decimalColumn<Group>({ header: "weakest_dbm", label: "Weakest, dBm" }, ({ minDbm }) => minDbm),
      decimalColumn<Group>(
        { header: "q05_dbm", label: `5${thinSpace}%, dBm`, as: "strong number" },
        ({ q05Dbm }) => q05Dbm,
      ),
      decimalColumn<Group>({ header: "median_dbm", label: "Median, dBm" }, ({ medianDbm }) => medianDbm),
      decimalColumn<Group>({ header: "strongest_dbm", label: "Strongest, dBm" }, ({ maxDbm }) => maxDbm),
    ],
    rows,
    tableCaption: "Signal of the tags read",
    mostRows: 40,
    file: files("why-signal", "the signal of the tags read, by antenna and condition."),
  });
}

function stepTable(rows: Step[], files: WhyContext["files"]) {
  return tableFigure<Step>({
    id: "signal-steps",
    caption: "How the share read falls with the signal.",
    howToRead:
      "Each tag stands in the row of its own usual level: the median of its strongest read over the passes that read it. A tag that was never read has none.",
    columns: [
      {
        header: "from_dbm",
        value: ({ fromDbm }) => fromDbm,
        label: "Usual level of the tag, dBm",
        text: ({ fromDbm, toDbm }) => `${dBm(fromDbm)} to ${dBm(toDbm)}`,
      },
      { header: "to_dbm", value: ({ toDbm }) => toDbm },
      ...countOfColumns<Step>({ headers: ["read", "presented"], label: "Read" }, ({ read, presented }) => ({
        k: read,
        n: presented,
      })),
      {
        label: "Share read",
        text: ({ read, presented }) => (presented === 0 ? "" : shareRead(read, presented)),
        as: "strong number",
      },
    ],
    rows,
    tableCaption: "Share read by signal",
    file: files("why-signal-steps", "how the share read falls with the signal."),
  });
}

/** 100 % only where nothing was missed. */
function shareRead(read: number, presented: number): string {
  const text = wholePercent(read / presented);
  return read < presented && text.startsWith("100") ? `over 99${thinSpace}%` : text;
}
