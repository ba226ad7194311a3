import type { State } from "../../model/state.ts";
import { stateBoxMark } from "../pictures/signs.ts";
import {
  type Box,
  element,
  formFrame,
  horizontal,
  ink,
  rectangle,
  small,
  smaller,
  textAt,
  textLines,
  vertical,
} from "../pictures/svg.ts";
import { fitLine, fitText } from "../pictures/text-fit.ts";
import { stateWord } from "../words/verdicts.ts";

/** A leg of the chain, finished for the picture. */
export interface Station {
  /** What the leg is called. */
  name: string;
  /** The read point and its facility. */
  readPoint: string;
  facility: string;
  /** To the read point's page; null where the site may not have it. */
  href: string | null;
  isOptional: boolean;
  /** The worst of the leg's own findings; null where no criterion asks about it. */
  state: State | null;
  /** `117 of 120`. */
  count: string;
  /** `97.5 %`, and its bounds; empty where nothing was counted. */
  share: string;
  bounds: string;
  /** `42 min`: the middle of the times from the leg before; empty where there is none. */
  travel: string;
  /** `2 late; 1 last seen here`; empty where no item was. */
  note: string;
}

interface ChainPicture {
  id: string;
  title: string;
  description: string;
  stations: Station[];
}

/** The chain as a line of read points: across a page, and down a phone. */
export function chainPicture(picture: ChainPicture): string {
  return widePicture(picture) + narrowPicture(picture);
}

const trackInk = "#1f5a7a";
const boxSize = 16;
/** How far the line stays away from the middle of a mark. */
const markRoom = boxSize / 2 + 4;

/** The line between two legs; dashed where the second one is optional. */
const track = (isOptional: boolean) => ({
  class: "route",
  stroke: trackInk,
  "stroke-width": 2.5,
  "stroke-dasharray": isOptional ? "5 4" : null,
});

/** The box of the leg's state on the line; a ring where nothing is asked of the leg. */
function stationMark(state: State | null, x: number, y: number): string {
  const half = boxSize / 2;
  const plate = rectangle(
    { x: x - half - 4, y: y - half - 2, width: boxSize + 8, height: boxSize + 4 },
    { class: "plate", fill: ink.paper },
  );
  if (state !== null) return plate + stateBoxMark(state, { x: x - half, y: y - half, size: boxSize });
  return (
    plate +
    element("circle", {
      cx: x,
      cy: y,
      r: 6,
      class: "route",
      fill: "none",
      stroke: trackInk,
      "stroke-width": 2.5,
    })
  );
}

/** The name of a read point: the colour of links where it is one. */
const nameInk = (href: string | null) =>
  href === null ? { class: "ink", fill: ink.text } : { class: "link", fill: trackInk };

/** A link needs room for a finger. */
function linked(href: string | null, room: Box, content: string): string {
  if (href === null) return content;
  return element("a", { href }, rectangle(room, { fill: "none", "pointer-events": "all" }) + content);
}

const wide = { name: "wide", width: 912, mostInARow: 5, rowHeight: 230 } as const;

function widePicture(picture: ChainPicture): string {
  const { stations } = picture;
  const rows = Math.ceil(stations.length / wide.mostInARow);
  const inARow = Math.ceil(stations.length / rows);
  const step = wide.width / inARow;
  const marks = stations.map((station, index) => {
    const row = Math.floor(index / inARow);
    const column = index - row * inARow;
    return wideStation(station, {
      x: column * step,
      y: row * wide.rowHeight,
      width: step,
      isFirst: index === 0,
      isFirstOfRow: column === 0,
    });
  });
  return formFrame(picture, { ...wide, height: rows * wide.rowHeight - 14 }, marks);
}

function wideStation(
  station: Station,
  {
    x,
    y,
    width,
    isFirst,
    isFirstOfRow,
  }: { x: number; y: number; width: number; isFirst: boolean; isFirstOfRow: boolean },
): string {
  const room = width - 14;
  const middle = y + 82;
  const at = x + 9;
  const names = fitText(station.readPoint, { width: room, size: 13, lines: 2 });
  const label = station.isOptional ? `${station.name} (optional)` : station.name;
  // Where a row begins there is no line to write the time at.
  const incoming = isFirstOfRow
    ? ""
    : horizontal(x - width + 9 + markRoom, at - markRoom, middle, track(station.isOptional));
  const travel = isFirstOfRow
    ? textAt(x, middle - 14, isFirst || station.travel === "" ? "" : `after ${station.travel}`, smaller)
    : textAt(x - width / 2 + 9, middle - 9, station.travel, { ...smaller, "text-anchor": "middle" });
  return [
    incoming,
    textAt(x, y + 14, fitLine(station.facility, room, 12), smaller),
    linked(
      station.href,
      { x, y: y + 18, width: room, height: 10 + 17 * names.length },
      textLines(names, { x, y: y + 34, step: 17 }, { "font-weight": 700, ...nameInk(station.href) }),
    ),
    stationMark(station.state, at, middle),
    travel,
    textAt(x, middle + 30, fitLine(label, room, 13), { class: "ink" }),
    textAt(x, middle + 58, station.share === "" ? "no item" : station.share, {
      "font-size": 21,
      "font-weight": 700,
      class: "figure ink",
    }),
    textAt(x, middle + 76, station.count, { ...small, class: "figure second" }),
    textAt(x, middle + 93, station.bounds, { ...smaller, class: "figure second" }),
    station.state === null
      ? ""
      : textAt(x, middle + 111, stateWord(station.state), {
          "font-weight": 600,
          class: `word ${station.state}`,
          fill: ink[station.state],
        }),
    textAt(x, middle + 127, fitLine(station.note, room, 12), smaller),
  ].join("");
}

const narrow = { name: "narrow", width: 360, left: 34, stationHeight: 118 } as const;

function narrowPicture(picture: ChainPicture): string {
  const { stations } = picture;
  const marks = stations.map((station, index) => narrowStation(station, index));
  return formFrame(picture, { ...narrow, height: stations.length * narrow.stationHeight - 10 }, marks);
}

function narrowStation(station: Station, index: number): string {
  const y = index * narrow.stationHeight;
  const middle = y + 18;
  const x = 10;
  const room = narrow.width - narrow.left;
  const label = station.isOptional ? `${station.name} (optional)` : station.name;
  return [
    index === 0
      ? ""
      : vertical(x, middle - narrow.stationHeight + markRoom, middle - markRoom, track(station.isOptional)),
    index === 0 || station.travel === "" ? "" : textAt(narrow.left, y - 8, station.travel, smaller),
    stationMark(station.state, x, middle),
    linked(
      station.href,
      { x: narrow.left, y: y + 4, width: room, height: 27 },
      textAt(narrow.left, y + 23, fitLine(station.readPoint, room, 14), {
        "font-size": 14,
        "font-weight": 700,
        ...nameInk(station.href),
      }),
    ),
    textAt(narrow.left, y + 41, fitLine(`${label}, ${station.facility}`, room, 12), smaller),
    textAt(narrow.left, y + 65, station.share === "" ? "no item" : station.share, {
      "font-size": 19,
      "font-weight": 700,
      class: "figure ink",
    }),
    textAt(narrow.left + 82, y + 58, station.count, { ...small, class: "figure second" }),
    textAt(narrow.left + 82, y + 73, station.bounds, { ...smaller, class: "figure second" }),
    station.state === null
      ? ""
      : textAt(narrow.width, y + 65, stateWord(station.state), {
          "text-anchor": "end",
          "font-weight": 600,
          class: `word ${station.state}`,
          fill: ink[station.state],
        }),
    textAt(narrow.left, y + 90, station.note, smaller),
  ].join("");
}
