import {
  counted,
  countText,
  decimalText,
  joined,
  nonEmpty,
  statedNumber,
  thinSpace,
} from "../../model/number-words.ts";
import type { Spread } from "../../model/result/figures.ts";
import type { HeardSummary } from "../../model/result/heard.ts";
import type { PassResult } from "../../model/result/pass.ts";
import { countColumn } from "../parts/columns.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Column, figure, type Section } from "../parts/figure.ts";
import { fromZeroAxis, levelAxis } from "../pictures/axis.ts";
import { spreadPicture } from "../pictures/spread-strip.ts";
import { minutesOf } from "../words/dates.ts";
import { levelText } from "../words/figures.ts";

/** The columns of a five-number summary, and of the count that it summarises. */
function spreadColumns<Row>(
  spreadOf: (row: Row) => Spread,
  { counts, unit, text }: { counts: string; unit: string; text: (value: number) => string },
): Column<Row>[] {
  const column = (
    pick: Exclude<keyof Spread, "n">,
    { header, label }: { header: string; label: string },
  ): Column<Row> => ({
    header: `${header}_${unit}`,
    value: (row) => spreadOf(row)[pick],
    label,
    text: (row) => text(spreadOf(row)[pick]),
    as: pick === "median" ? "strong number" : "number",
  });
  return [
    countColumn({ header: "tags", label: counts }, (row) => spreadOf(row).n),
    column("min", { header: "least", label: "Least" }),
    column("q05", { header: "q05", label: `5${thinSpace}%` }),
    column("median", { header: "median", label: "Median" }),
    column("q95", { header: "q95", label: `95${thinSpace}%` }),
    column("max", { header: "most", label: "Most" }),
  ];
}

const reads = { id: "heard-reads", title: "Reads of each tag in a pass" };

/** How many reads each tag had in its pass: few reads mean little margin. */
export function readsPerTag({ readsPerTag: spread }: HeardSummary, files: TableFiles): Section {
  const { id, title } = reads;
  if (spread === null)
    return { ...reads, sentences: ["No presented tag was read, so there are no reads to count."] };
  const caption =
    spread.min === spread.max
      ? `Every tag that was read was read ${timesText(spread.min)} in its pass.`
      : `Each tag that was read was read ${readsText(spread.min)} to ${readsText(spread.max)} times in its pass: half of them ${timesText(spread.median)} or more, 5 % of them ${timesText(spread.q05)} or less.`;
  const label = "Reads of a tag";
  return {
    ...reads,
    figure: figure({
      id: `${id}-figure`,
      caption,
      howToRead:
        "The thin line runs from the fewest to the most reads, the bar covers the middle 90 %, and the upright mark is the median. A tag counts once in each pass that presented it; missed tags are not included. Tags that are read only once or twice have little margin.",
      picture: () =>
        spreadPicture({
          id: `${id}-picture`,
          title,
          description: caption,
          rows: [{ label, spread }],
          axis: fromZeroAxis([spread.max]),
          unit: "",
          text: readsText,
        }),
      tableCaption: title,
      columns: [
        { label: "", text: () => label },
        ...spreadColumns<Spread>((row) => row, { counts: "Tags read", unit: "reads", text: readsText }),
      ],
      rows: [spread],
      file: files(id, "reads of each tag in a pass, from the reader's own log."),
    }),
  };
}

function readsText(reads: number): string {
  return Number.isInteger(reads) ? countText(reads) : decimalText(reads, 1);
}

function timesText(reads: number): string {
  return reads === 1 ? "once" : `${readsText(reads)} times`;
}

const signal = { id: "heard-signal", title: "Strongest signal by antenna" };

/** A picture of more antennas than this would be unreadable; the CSV table has them all. */
const mostAntennas = 40;

interface AntennaSpread {
  antenna: string;
  label: string;
  spread: Spread;
}

/** The signal strength at each antenna: the strongest read of each presented tag in each pass. */
export function signalByAntenna({ antennas }: HeardSummary, files: TableFiles): Section {
  const { id, title } = signal;
  const measured = antennas.flatMap(({ antenna, strongestDbm }): AntennaSpread[] =>
    strongestDbm === null ? [] : [{ antenna, label: `Antenna ${antenna}`, spread: strongestDbm }],
  );
  if (antennas.length === 0)
    return { ...signal, sentences: ["The log does not name the antennas that read the presented tags."] };
  if (measured.length === 0) return { ...signal, sentences: ["The log does not record signal strength."] };
  const shown = measured.slice(0, mostAntennas);
  const silent = antennas.filter(({ strongestDbm }) => strongestDbm === null).map(({ antenna }) => antenna);
  const text = (dbm: number) => decimalText(dbm, 1);
  const caption = nonEmpty([
    signalCaption(measured),
    silent.length === 0 ? "" : `No signal is recorded for antenna ${joined(silent)}.`,
    measured.length > shown.length
      ? `${counted(measured.length - shown.length, "further antenna is", "further antennas are")} in the CSV table.`
      : "",
  ]).join(" ");
  return {
    ...signal,
    figure: figure({
      id: `${id}-figure`,
      caption,
      howToRead: `Each row takes the strongest read of every tag that the antenna read, in each pass. The thin line runs from the weakest to the strongest, the bar covers the middle 90 %, and the upright mark is the median. Further right is stronger. Antennas read different tags, so a weak row may belong to the antenna that reaches farthest.`,
      picture: () =>
        spreadPicture({
          id: `${id}-picture`,
          title,
          description: caption,
          rows: shown,
          axis: levelAxis(shown.flatMap(({ spread }) => [spread.min, spread.max])),
          unit: "dBm",
          text,
        }),
      tableCaption: "Strongest signal by antenna, dBm",
      columns: [
        { header: "antenna", value: ({ antenna }) => antenna, label: "Antenna", text: ({ label }) => label },
        ...spreadColumns<AntennaSpread>(({ spread }) => spread, { counts: "Tags read", unit: "dbm", text }),
      ],
      rows: measured,
      mostRows: mostAntennas,
      file: files(id, "strongest signal of each tag by antenna, from the reader's own log."),
    }),
  };
}

/** The range of the medians. Antennas are named, not ranked: they may differ by less than the reader resolves. */
function signalCaption(rows: AntennaSpread[]): string {
  const medians = rows.map(({ spread }) => spread.median);
  const [first] = rows;
  if (rows.length === 1) return `${first!.label} read its tags with a median of ${levelText(medians[0]!)}.`;
  const [weakest, strongest] = [Math.min(...medians), Math.max(...medians)];
  if (weakest === strongest)
    return `All antennas read their tags with the same median, ${levelText(weakest)}.`;
  const named = (median: number) => {
    const own = rows.filter(({ spread }) => spread.median === median);
    return `${own.length === 1 ? "antenna" : "antennas"} ${joined(own.map(({ antenna }) => antenna))}`;
  };
  return `The medians of the antennas lie between ${levelText(weakest)} (${named(weakest)}) and ${levelText(strongest)} (${named(strongest)}).`;
}

const first = { id: "heard-first-read", title: "Time to the first read" };

/** The time from the opening of the pass window to the first read of each tag, against the length of the windows. */
export function firstReads(
  { firstReadMs, window }: HeardSummary,
  timed: PassResult[],
  files: TableFiles,
): Section {
  const { id, title } = first;
  if (firstReadMs === null)
    return { ...first, sentences: ["No presented tag was read, so there is no first read."] };
  const inSeconds = secondsOf(firstReadMs);
  const text = (seconds: number) => decimalText(seconds, 2);
  const within = (seconds: number) => `${text(seconds)}${thinSpace}s`;
  const windows = extremesOf(windowSeconds(timed, window));
  const caption = `Half of the tags read were first read within ${within(inSeconds.median)} after the window opened, 95 % of them within ${within(inSeconds.q95)}, the last after ${within(inSeconds.max)}. ${windowSentence(windows)}`;
  const label = "First read";
  return {
    ...first,
    figure: figure({
      id: `${id}-figure`,
      caption,
      howToRead: `Seconds after the window opens. The window opens ${statedNumber(window.beforeS)}${thinSpace}s before a pass begins and closes ${statedNumber(window.afterS)}${thinSpace}s after it ends; the axis covers the longest window. The thin line runs from the earliest to the latest first read, the bar covers the middle 90 %, and the upright mark is the median. If first reads crowd at one end, the window or one of the two clocks is wrong.`,
      picture: () =>
        spreadPicture({
          id: `${id}-picture`,
          title,
          description: caption,
          rows: [{ label, spread: inSeconds }],
          axis: fromZeroAxis([inSeconds.max, windows.most]),
          unit: "s",
          text,
        }),
      tableCaption: "Seconds from the start of the window to the first read",
      columns: [
        { label: "", text: () => label },
        ...spreadColumns<Spread>((row) => row, {
          counts: "Tags read",
          unit: "ms",
          text: (ms) => text(ms / 1000),
        }),
        { header: "window_before_s", value: () => window.beforeS },
        { header: "window_after_s", value: () => window.afterS },
      ],
      rows: [firstReadMs],
      file: files(id, "milliseconds from the start of the pass window to the first read of each tag."),
    }),
  };
}

function secondsOf({ n, min, q05, median, q95, max }: Spread): Spread {
  return { n, min: min / 1000, q05: q05 / 1000, median: median / 1000, q95: q95 / 1000, max: max / 1000 };
}

function windowSeconds(timed: PassResult[], { beforeS, afterS }: HeardSummary["window"]): number[] {
  return timed.flatMap(({ startedAt, endedAt }) => {
    const [start, end] = [minutesOf(startedAt), minutesOf(endedAt)];
    return start === null || end === null
      ? []
      : [Math.round((end - start) * 60_000) / 1000 + beforeS + afterS];
  });
}

function extremesOf(lengths: number[]): { least: number; most: number } {
  return {
    least: lengths.reduce((low, length) => Math.min(low, length), Number.POSITIVE_INFINITY),
    most: lengths.reduce((high, length) => Math.max(high, length), 0),
  };
}

function windowSentence({ least, most }: { least: number; most: number }): string {
  const text = (value: number) => decimalText(value, 1);
  return least >= most
    ? `The windows are ${text(most)}${thinSpace}s long.`
    : `The windows are ${text(least)} to ${text(most)}${thinSpace}s long.`;
}
