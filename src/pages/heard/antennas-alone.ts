import { shareText } from "../../measures/scales.ts";
import { counted, countText, joined } from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result.ts";
import { numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import type { HeardPart } from "./heard-part.ts";

const id = "heard-antennas";
const title = "What each antenna is needed for";

/** Which antenna alone would have caught what share of the tags presented, and what would be lost without it. */
export function antennasAlone(
  { antennas, tagsPresented, tagsRead }: HeardSummary,
  downloads: Link[],
): HeardPart {
  if (antennas.length === 0) {
    const sentence =
      "The log names no antenna with the tags presented, so what each is needed for is not known.";
    return { id, title, sentence, figure: null, table: null };
  }
  const count = (tags: number) => `${countText(tags)} of ${countText(tagsPresented)}`;
  return {
    id,
    title,
    sentence: "",
    figure: null,
    table: {
      id: `${id}-figure`,
      caption: captionOf(antennas, tagsPresented),
      howToRead:
        "Alone: the tags presented that this antenna heard, whatever the others did. Only here: those that no other antenna heard, so that they would have been missed without it. Shares are of the tags presented and rounded down. With one antenna less the reader would give the others more time, so that a real loss may be smaller.",
      table: {
        caption: "Tags presented, by the antennas that heard them",
        columns: [
          { label: "Antenna", numeric: false },
          { label: "Alone", numeric: true },
          { label: "Share alone", numeric: true },
          { label: "Only here", numeric: true },
          { label: "Read without it", numeric: true },
          { label: "Share without it", numeric: true },
        ],
        rows: antennas.map(({ antenna, tagsRead: alone, onlyHere }) => [
          textCell(`Antenna ${antenna}`),
          numberCell(count(alone)),
          numberCell(shareText(alone, tagsPresented), true),
          numberCell(countText(onlyHere)),
          numberCell(count(tagsRead - onlyHere)),
          numberCell(shareText(tagsRead - onlyHere, tagsPresented), true),
        ]),
      },
      downloads,
    },
  };
}

function captionOf(antennas: HeardSummary["antennas"], tagsPresented: number): string {
  const most = antennas.reduce((best, one) => (one.tagsRead > best.tagsRead ? one : best));
  const alone = `${countText(most.tagsRead)} of ${counted(tagsPresented, "tag", "tags")} presented (${shareText(most.tagsRead, tagsPresented)})`;
  if (antennas.length === 1)
    return `The log names one antenna with the tags presented, ${most.antenna}: it heard ${alone}.`;
  const needed = antennas.reduce((best, one) => (one.onlyHere > best.onlyHere ? one : best));
  const spare = antennas.filter(({ onlyHere }) => onlyHere === 0).map(({ antenna }) => antenna);
  const lost =
    needed.onlyHere === 0
      ? "No tag hangs on any single antenna."
      : `Without antenna ${needed.antenna}, ${counted(needed.onlyHere, "tag", "tags")} would have been missed that no other antenna heard.`;
  const none =
    spare.length === 0 || needed.onlyHere === 0
      ? ""
      : ` Nothing hangs on antenna ${joined(spare, "or")} alone.`;
  return `Antenna ${most.antenna} alone would have caught ${alone}. ${lost}${none}`;
}
