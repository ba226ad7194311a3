import type { FloorPlan } from "../../model/facility.ts";
import type { State } from "../../model/state.ts";
import { type Conceded, stateBoxMark } from "./signs.ts";
import { type Box, element, frame, ink, rectangle, small, textAt } from "./svg.ts";
import { fitLine, textWidth } from "./text-fit.ts";

export interface PlanPoint {
  letter: string;
  /** The page of the read point, and its name. */
  href: string;
  name: string;
  state: State;
  conceded: Conceded;
  /** Percent of the plan; null where the facility gives no place. */
  at: { x: number; y: number } | null;
}

export interface PlanPicture {
  id: string;
  title: string;
  description: string;
  plan: FloorPlan;
  /** Of the copy of its image, from the page; empty where it has none. */
  imageHref: string;
  points: PlanPoint[];
}

/** Maps percent of the plan to places in the picture. */
interface Scale {
  width: number;
  height: number;
  x(percent: number): number;
  y(percent: number): number;
}

const edge = 1;

/**
 * The plan: areas outlined, read points as lettered boxes of their state. The table beside it is its key. In two forms, of
 * which the style sheet shows the one that fits.
 */
export function floorPlanPicture(picture: PlanPicture): string {
  return (
    planPicture(picture, "wide", 560) + planPicture({ ...picture, id: `${picture.id}-narrow` }, "narrow", 380)
  );
}

function planPicture(
  { id, title, description, plan, imageHref, points }: PlanPicture,
  form: "wide" | "narrow",
  width: number,
): string {
  const scale = scaleOf(plan, width);
  const plates = points.flatMap((point) => {
    const plate = plateOf(point, scale, width);
    return plate === null ? [] : [{ point, plate }];
  });
  const bar = scaleBar(plan, scale);
  const height = scale.height + 2 * edge + 22;
  return frame(
    { id, width, height, title, description, className: `plan ${form}` },
    [
      imageHref === "" ? "" : image(imageHref, scale),
      ...plan.areas.map((area) =>
        areaMark(area, {
          scale,
          plates: plates.map(({ plate }) => plate),
          isOverImage: imageHref !== "",
        }),
      ),
      rectangle(
        { x: edge, y: edge, width: scale.width, height: scale.height },
        { class: "outline leader", fill: "none", stroke: ink.second, "stroke-width": 1.25 },
      ),
      ...plates.map(({ point, plate }) => pointMark(point, plate)),
      bar,
    ].join(""),
  );
}

function scaleOf(plan: FloorPlan, outerWidth: number): Scale {
  const width = outerWidth - 2 * edge;
  const ratio = plan.depthMetres / plan.widthMetres;
  const height = Math.round(Math.min(outerWidth * 0.9, Math.max(outerWidth * 0.25, width * ratio)));
  return {
    width,
    height,
    x: (percent) => edge + (width * percent) / 100,
    y: (percent) => edge + (height * percent) / 100,
  };
}

/** The image gives the plan its shape, so it fills it, but for what the shortest and longest picture cut off. */
function image(href: string, { width, height }: Scale): string {
  return element("image", { href, x: edge, y: edge, width, height, preserveAspectRatio: "none" });
}

function areaMark(
  area: FloorPlan["areas"][number],
  { scale, plates, isOverImage }: { scale: Scale; plates: Box[]; isOverImage: boolean },
): string {
  const box: Box = {
    x: scale.x(area.x),
    y: scale.y(area.y),
    width: (scale.width * area.width) / 100,
    height: (scale.height * area.height) / 100,
  };
  const name = fitLine(area.name, box.width - 14, 12.5);
  const label = { x: box.x + 7, y: box.y + 5, width: textWidth(name, 12.5), height: 15 };
  // A name that a read point would partly cover is left out.
  const shown = plates.some((plate) => overlap(plate, label)) ? "" : name;
  return (
    rectangle(box, {
      class: "area",
      fill: isOverImage ? "none" : "#f5f7f8",
      stroke: ink.hair,
      "stroke-width": 1,
    }) + textAt(label.x, box.y + 17, shown, small)
  );
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

const boxSize = 18;

/** The background of a read point's box and letter, inside the picture; null where it has no place. */
function plateOf({ letter, at }: PlanPoint, scale: Scale, width: number): Box | null {
  if (at === null) return null;
  const whole = boxSize + 5 + textWidth(letter, 13) + 2;
  const left = Math.min(Math.max(scale.x(at.x) - boxSize / 2, 4), width - whole - 6);
  return { x: left - 4, y: scale.y(at.y) - boxSize / 2 - 4, width: whole + 8, height: boxSize + 8 };
}

function pointMark({ letter, state, conceded, href, name }: PlanPoint, plate: Box): string {
  const [left, top] = [plate.x + 4, plate.y + 4];
  return element(
    "a",
    { href, "aria-label": `${letter}: ${name}` },
    rectangle(plate, { rx: 2, class: "plate", fill: ink.paper }) +
      stateBoxMark(state, { x: left, y: top, size: boxSize }, conceded) +
      textAt(left + boxSize + 5, top + boxSize / 2 + 5.5, letter, {
        "font-size": 13,
        "font-weight": 700,
        class: "link",
      }),
  );
}

function scaleBar(plan: FloorPlan, { width, height }: Scale): string {
  const metres = [100, 50, 20, 10, 5, 2, 1].find((length) => length <= plan.widthMetres / 4) ?? 1;
  const right = edge + (width * metres) / plan.widthMetres;
  const y = height + edge + 13;
  return (
    element("path", {
      d: `M${edge},${(y - 4).toFixed(2)}V${y.toFixed(2)}H${right.toFixed(2)}V${(y - 4).toFixed(2)}`,
      class: "leader",
      fill: "none",
      stroke: ink.second,
      "stroke-width": 1.25,
    }) + textAt(right + 8, y, `${metres}\u00a0m`, small)
  );
}
