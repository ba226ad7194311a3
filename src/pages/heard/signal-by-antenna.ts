import { counted, decimalText, joined, thinSpace } from "../../model/number-words.ts";
import type { HeardSummary, Spread } from "../../model/result.ts";
import type { Link } from "../page.ts";
import { levelAxis } from "../pictures/axis.ts";
import { spreadPicture } from "../pictures/spread-strip.ts";
import type { HeardPart } from "./heard-part.ts";
import { spreadTable } from "./spread-table.ts";

const id = "heard-signal";
const title = "Strongest signal by antenna";
/** More antennas than this are no picture any more; the table as CSV holds them. */
const mostAntennas = 40;

/** How strongly each antenna heard the tags presented: the strongest read of each tag in each pass. */
export function signalByAntenna({ antennas }: HeardSummary, downloads: Link[]): HeardPart {
  const measured = antennas.flatMap(({ antenna, strongestDbm }) =>
    strongestDbm === null ? [] : [{ antenna, label: `Antenna ${antenna}`, spread: strongestDbm }],
  );
  if (measured.length === 0) {
    const sentence =
      antennas.length === 0
        ? "The log names no antenna with the tags presented."
        : "The log records no signal strength.";
    return { id, title, sentence, figure: null, table: null };
  }
  const shown = measured.slice(0, mostAntennas);
  const silent = antennas.filter(({ strongestDbm }) => strongestDbm === null).map(({ antenna }) => antenna);
  const text = (dbm: number) => decimalText(dbm, 1);
  const caption = [
    captionOf(measured),
    silent.length === 0 ? "" : `No signal is recorded for antenna ${joined(silent)}.`,
    measured.length > shown.length
      ? `${counted(measured.length - shown.length, "further antenna stands", "further antennas stand")} in the table as CSV.`
      : "",
  ];
  const finding = caption.filter((part) => part !== "").join(" ");
  return {
    id,
    title,
    sentence: "",
    figure: {
      id: `${id}-figure`,
      caption: finding,
      howToRead: `Each row takes the strongest read of every tag that the antenna heard, pass by pass. The thin line runs from the weakest to the strongest, the bar over the middle nine tenths, and the upright stands at the median. Further right is stronger. Antennas hear different tags, so a weak row may be an antenna that reaches farthest.`,
      picture: spreadPicture({
        id: `${id}-picture`,
        title,
        description: finding,
        rows: shown,
        axis: levelAxis(shown.flatMap(({ spread }) => [spread.min, spread.max])),
        unit: "dBm",
        text,
      }),
      table: spreadTable("Strongest signal by antenna, dBm", "Antenna", "Tags heard", shown, text),
      downloads,
    },
    table: null,
  };
}

/** Where the medians lie; antennas a step of the reader's scale apart are named, not ranked. */
function captionOf(rows: { antenna: string; label: string; spread: Spread }[]): string {
  const level = (dbm: number) => `${decimalText(dbm, 1)}${thinSpace}dBm`;
  const medians = rows.map(({ spread }) => spread.median);
  const [first] = rows;
  if (rows.length === 1) return `${first!.label} heard its tags with a median of ${level(medians[0]!)}.`;
  const [weakest, strongest] = [Math.min(...medians), Math.max(...medians)];
  if (weakest === strongest) return `All antennas heard their tags with the same median, ${level(weakest)}.`;
  const named = (median: number) => {
    const own = rows.filter(({ spread }) => spread.median === median);
    return `${own.length === 1 ? "antenna" : "antennas"} ${joined(own.map(({ antenna }) => antenna))}`;
  };
  return `The medians of the antennas lie between ${level(weakest)} (${named(weakest)}) and ${level(strongest)} (${named(strongest)}).`;
}
