import { countText } from "../../model/number-words.ts";
import { element, escapeText, frame, ink, textAt } from "./svg.ts";
import { fitLine, textWidth } from "./text-fit.ts";

interface MapLine {
  label: string;
  /** Where the label leads to; empty where it leads nowhere. */
  href: string;
  /** Whether it stands out, and so is set stronger. */
  isStrong: boolean;
}

export interface MissMapPicture {
  id: string;
  title: string;
  description: string;
  rows: (MapLine & { missed: number; presented: number })[];
  columns: MapLine[];
  /** One text a row, one character a column: r read, m missed, anything else not presented. */
  cells: string[];
}

/** A cell with room for a label, and the least that can still be seen. */
const labelled = 11;
const leastWidth = 1.6;
const leastHeight = 2.5;
const room = 660;
const labelSize = 9.5;

/**
 * Tags by passes: a light line where a tag was presented, a dark one where it was missed. Neighbouring cells are drawn as one
 * line, so that the picture grows with its misses and not with its cells.
 */
export function missMapPicture(picture: MissMapPicture): string {
  const { rows, columns, cells } = picture;
  const width = pitch(columns.length, leastWidth);
  const height = pitch(rows.length, leastHeight);
  // Whole numbers take fewer bytes in thousands of lines.
  const left = Math.ceil(8 + widest(rows.map(({ label }) => label)));
  const top = Math.ceil(8 + widest(columns.map(({ label }) => label)));
  const counts = rows.map(({ missed, presented }) =>
    missed === 0 ? "" : `${countText(missed)}/${countText(presented)}`,
  );
  const lines = (kinds: string) => runsPath(cells, kinds, { left, top, width, height });
  const stroke = { fill: "none", "stroke-width": height > 4 ? height - 1.5 : height - 0.5 };
  return frame(
    {
      id: picture.id,
      width: left + columns.length * width + 6 + widest(counts),
      height: top + rows.length * height + 4,
      title: picture.title,
      description: picture.description,
      className: "grid miss-map",
    },
    [
      element("path", { class: "hair", stroke: ink.hair, ...stroke, d: lines("rm") }),
      element("path", { class: "limit", stroke: ink.text, ...stroke, d: lines("m") }),
      names(rows, {
        pitch: height,
        attributes: { "text-anchor": "end" },
        transform: `translate(${left - 5} ${top})`,
      }),
      names(columns, {
        pitch: width,
        attributes: {},
        transform: `translate(${left} ${top - 4}) rotate(-90)`,
      }),
      element(
        "g",
        { "font-size": labelSize, class: "second", fill: ink.second },
        spaced(rows, height)
          .map((index) =>
            counts[index] === ""
              ? ""
              : textAt(left + columns.length * width + 5, top + height * (index + 0.5) + 3.2, counts[index]!),
          )
          .join(""),
      ),
    ].join(""),
  );
}

function pitch(count: number, least: number): number {
  return count * labelled <= room ? labelled : Math.max(least, room / count);
}

function widest(texts: string[]): number {
  return texts.reduce((most, text) => Math.max(most, textWidth(text, labelSize)), 0);
}

/** The lines whose labels have room, those of the strong ones first. */
function spaced(lines: MapLine[], pitchOfLine: number): number[] {
  const step = Math.ceil(labelled / pitchOfLine - 1e-9);
  const taken: number[] = [];
  const isFree = (index: number) => taken.every((other) => Math.abs(other - index) >= step);
  if (step === 1) return lines.map((_, index) => index);
  const strong = lines.flatMap(({ isStrong }, index) => (isStrong ? [index] : []));
  for (const index of [...strong, ...lines.keys()]) if (isFree(index)) taken.push(index);
  return taken.sort((a, b) => a - b);
}

function names(
  lines: MapLine[],
  { pitch, attributes, transform }: { pitch: number; attributes: Record<string, string>; transform: string },
): string {
  const content = spaced(lines, pitch).map((index) => {
    const { label, href, isStrong } = lines[index]!;
    const y = Math.round(10 * (pitch * (index + 0.5) + 3.2)) / 10;
    const text = element("text", { y, ...(isStrong ? { "font-weight": 700 } : {}) }, escapeText(label));
    return href === "" ? text : `<a href="${escapeText(href)}">${text}</a>`;
  });
  return element("g", { "font-size": labelSize, ...attributes, transform }, content.join(""));
}

interface Grid {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** One line for each unbroken run of cells of these kinds. */
function runsPath(cells: string[], kinds: string, { left, top, width, height }: Grid): string {
  const gap = width > 4 ? 1 : 0;
  const short = (value: number) => String(Math.round(value * 10) / 10);
  return cells
    .flatMap((row, index) => {
      const y = short(top + height * (index + 0.5));
      return [...row.matchAll(new RegExp(`[${kinds}]+`, "g"))].map(
        (run) => `M${short(left + width * run.index)} ${y}h${short(width * run[0].length - gap)}`,
      );
    })
    .join("");
}

/** What tells codes apart: without the beginning that all share, at most ten characters from the end. */
export function shortLabels(codes: string[]): string[] {
  const [first = ""] = codes;
  let shared = codes.length > 1 ? first.length : 0;
  for (const code of codes) while (!code.startsWith(first.slice(0, shared))) shared -= 1;
  return codes.map((code) => {
    const from = Math.max(Math.min(shared, code.length - 4), 0);
    return fitLine(from === 0 ? code : `…${code.slice(from)}`, 90, labelSize);
  });
}
