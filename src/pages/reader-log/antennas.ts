import { shareText } from "../../measures/scales.ts";
import { counted, countText, joined } from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result/heard.ts";
import { countColumn } from "../parts/columns.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { countOf } from "../parts/rate-columns.ts";

const heading = { id: "heard-antennas", title: "What each antenna contributes" };

/** The share of the presented tags that each antenna read on its own, and the share read without it. */
export function antennasAlone(
  { antennas, tagsPresented, tagsRead }: HeardSummary,
  files: TableFiles,
): Section {
  if (antennas.length === 0) {
    return {
      ...heading,
      sentences: [
        "The log does not name the antennas that read the presented tags, so it is not known what each contributes.",
      ],
    };
  }
  const count = (tags: number) => countOf({ k: tags, n: tagsPresented });
  const share = (tags: number) => shareText(tags, tagsPresented);
  return {
    ...heading,
    tables: [
      tableFigure<HeardSummary["antennas"][number]>({
        id: `${heading.id}-figure`,
        caption: captionOf(antennas, tagsPresented),
        howToRead:
          "Alone: the presented tags that this antenna read, with or without the others. Only here: the tags that no other antenna read, which would have been missed without it. Shares are of the tags presented and are rounded down. With one antenna less, the reader would give the others more time, so the real loss may be smaller.",
        tableCaption: "Tags presented, by the antennas that read them",
        columns: [
          {
            header: "antenna",
            value: ({ antenna }) => antenna,
            label: "Antenna",
            text: ({ antenna }) => `Antenna ${antenna}`,
          },
          { header: "tags_presented", value: () => tagsPresented },
          {
            header: "tags_heard_here",
            value: (row) => row.tagsRead,
            label: "Alone",
            text: (row) => count(row.tagsRead),
            as: "number",
          },
          { label: "Share alone", text: (row) => share(row.tagsRead), as: "strong number" },
          countColumn({ header: "tags_heard_only_here", label: "Only here" }, ({ onlyHere }) => onlyHere),
          {
            header: "tags_read_without_it",
            value: ({ onlyHere }) => tagsRead - onlyHere,
            label: "Read without it",
            text: ({ onlyHere }) => count(tagsRead - onlyHere),
            as: "number",
          },
          {
            label: "Share without it",
            text: ({ onlyHere }) => share(tagsRead - onlyHere),
            as: "strong number",
          },
        ],
        rows: antennas,
        file: files(heading.id, "tags presented that each antenna read, and that only it read."),
      }),
    ],
  };
}

function captionOf(antennas: HeardSummary["antennas"], tagsPresented: number): string {
  const most = antennas.reduce((best, one) => (one.tagsRead > best.tagsRead ? one : best));
  const alone = `${countText(most.tagsRead)} of ${counted(tagsPresented, "tag", "tags")} presented (${shareText(most.tagsRead, tagsPresented)})`;
  if (antennas.length === 1) return `The log names only antenna ${most.antenna}: it read ${alone}.`;
  const needed = antennas.reduce((best, one) => (one.onlyHere > best.onlyHere ? one : best));
  const spare = antennas.filter(({ onlyHere }) => onlyHere === 0).map(({ antenna }) => antenna);
  const lost =
    needed.onlyHere === 0
      ? "No tag depended on a single antenna."
      : `Without antenna ${needed.antenna}, ${counted(needed.onlyHere, "tag", "tags")} would have been missed, because no other antenna read them.`;
  const none =
    spare.length === 0 || needed.onlyHere === 0
      ? ""
      : ` No tag depended on antenna ${joined(spare, "or")} alone.`;
  return `Antenna ${most.antenna} alone would have read ${alone}. ${lost}${none}`;
}
