import type { FloorPlan } from "../../model/facility.ts";
import type { State } from "../../model/result.ts";
import { type Conceded, stateBoxMark } from "./state-box.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { fitText, textWidth } from "./text-fit.ts";

export interface PlanPoint {
  letter: string;
  state: State;
  conceded: Conceded;
  /** Percent of the plan; null where the facility places it nowhere. */
  at: { x: number; y: number } | null;
}

export interface PlanPicture {
  id: string;
  title: string;
  description: string;
  plan: FloorPlan | null;
  points: PlanPoint[];
  /** Which of the two forms this is: the style sheet shows the one that fits. */
  form: "wide" | "narrow";
}

/** The plan: areas outlined, read points as lettered boxes of their state. The table beside it is its key. */
export function floorPlanPicture({ id, title, description, plan, points, form }: PlanPicture): string {
  const width = form === "wide" ? 760 : 380;
  const edge = 1;
  const inner = width - 2 * edge;
  const ratio = plan === null ? 0.5 : plan.depthMetres / plan.widthMetres;
  const height = Math.round(Math.min(width * 0.9, Math.max(width * 0.25, inner * ratio)));
  const x = (percent: number) => edge + (inner * percent) / 100;
  const y = (percent: number) => edge + (height * percent) / 100;
  const outline = element("rect", {
    x: edge,
    y: edge,
    width: inner,
    height,
    class: "outline leader",
    fill: "none",
    stroke: ink.second,
    "stroke-width": 1.25,
  });
  const plates = points.flatMap((point) =>
    point.at === null ? [] : [plateOf(point, x(point.at.x), y(point.at.y), width)],
  );
  const areas = (plan?.areas ?? []).map((area) => {
    const areaWidth = (inner * area.width) / 100;
    const areaHeight = (height * area.height) / 100;
    const [name = ""] = fitText(area.name, areaWidth - 14, 12.5, 1);
    const label = { left: x(area.x) + 7, top: y(area.y) + 5, width: textWidth(name, 12.5), height: 15 };
    // A name that a read point would cover in part says less than none.
    const shown = plates.some((plate) => overlap(plate, label)) ? "" : name;
    return (
      element("rect", {
        x: x(area.x),
        y: y(area.y),
        width: areaWidth,
        height: areaHeight,
        class: "area",
        fill: "#f5f7f8",
        stroke: ink.hair,
        "stroke-width": 1,
      }) +
      textAt(label.left, y(area.y) + 17, shown, {
        "font-size": 12.5,
        class: "second",
        fill: ink.second,
      })
    );
  });
  const marks = points.map((point) =>
    point.at === null ? "" : pointMark(point, x(point.at.x), y(point.at.y), width),
  );
  const bar = plan === null ? { markup: "", height: 0 } : scaleBar(plan, edge, height, inner);
  return frame(
    { id, width, height: height + 2 * edge + bar.height, title, description, className: `plan ${form}` },
    areas.join("") + outline + marks.join("") + bar.markup,
  );
}

interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

function overlap(a: Box, b: Box): boolean {
  return (
    a.left < b.left + b.width &&
    b.left < a.left + a.width &&
    a.top < b.top + b.height &&
    b.top < a.top + a.height
  );
}

const size = 18;

/** The ground that a read point's box and letter stand on. */
function plateOf({ letter }: PlanPoint, x: number, y: number, width: number): Box {
  const whole = size + 5 + textWidth(letter, 16) + 2;
  const left = Math.min(Math.max(x - size / 2, 4), width - whole - 6);
  return { left: left - 4, top: y - size / 2 - 4, width: whole + 8, height: size + 8 };
}

function pointMark(point: PlanPoint, x: number, y: number, width: number): string {
  const { letter, state, conceded } = point;
  const plate = plateOf(point, x, y, width);
  const left = plate.left + 4;
  return (
    element("rect", {
      x: plate.left,
      y: plate.top,
      width: plate.width,
      height: plate.height,
      rx: 2,
      class: "plate",
      fill: ink.paper,
    }) +
    stateBoxMark(state, left, y - size / 2, size, conceded) +
    textAt(left + size + 5, y + 5.5, letter, { "font-size": 16, "font-weight": 700, class: "ink" })
  );
}

function scaleBar(
  plan: FloorPlan,
  edge: number,
  height: number,
  inner: number,
): { markup: string; height: number } {
  const metres = [100, 50, 20, 10, 5, 2, 1].find((length) => length <= plan.widthMetres / 4) ?? 1;
  const length = (inner * metres) / plan.widthMetres;
  const top = height + edge + 13;
  return {
    height: 22,
    markup:
      element("path", {
        d: `M${edge},${(top - 4).toFixed(2)}V${top.toFixed(2)}H${(edge + length).toFixed(2)}V${(top - 4).toFixed(2)}`,
        class: "leader",
        fill: "none",
        stroke: ink.second,
        "stroke-width": 1.25,
      }) +
      textAt(edge + length + 8, top, `${metres}\u00a0m`, {
        "font-size": 12.5,
        class: "second",
        fill: ink.second,
      }),
  };
}
