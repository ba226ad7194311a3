import type { ActiveElement, ChartDataset, Chart as ChartOf, ChartOptions } from "chart.js";
import type { Dimension, Explorer } from "../read-point/explore.ts";

/** A script of its own, which is loaded when the panel is opened. */
declare const Chart: typeof ChartOf<"line", Mark[]>;

interface Mark {
  x: number;
  y: number;
  /** Its place among the points. */
  point: number;
}

type Scale = NonNullable<NonNullable<ChartOptions<"line">["scales"]>[string]>;

// Shape and colour change together, so that neither is needed to tell two values apart.
const shapes = ["circle", "rect", "triangle", "rectRot", "star", "cross", "rectRounded", "crossRot"] as const;
const inks = {
  light: ["#1f5a7a", "#a33b1f", "#14635f", "#8a6400", "#5b4a8a", "#56616f", "#8a2f5d", "#3f6b1e"],
  dark: ["#7fbfe0", "#f0977b", "#6fcac4", "#e0b84a", "#b9a8ec", "#b4bdc8", "#e59ac0", "#a5cf7f"],
};
const lineShapes: string[] = ["star", "cross", "crossRot"];

/** The first word of the address behind the #, before the choices. */
const place = "explore";

/**
 * Lays the passes out on two axes that the reader picks. Everything it says comes finished in the page's own data, and stands in
 * the table of passes and its CSV as well. The choices stand in the address, so that what is seen can be sent.
 */
class ExplorePanel {
  readonly #panel: HTMLDetailsElement;
  readonly #data: Explorer;
  readonly #canvas: HTMLCanvasElement;
  readonly #choices: HTMLSelectElement[];
  readonly #spoken: HTMLOutputElement;
  readonly #dark = window.matchMedia("(prefers-color-scheme: dark)");
  #chart: ChartOf<"line", Mark[]> | null = null;
  #loading = false;
  /** The points that have both values, from left to right. */
  #shown: number[] = [];
  #current = -1;

  constructor(panel: HTMLDetailsElement, data: Explorer) {
    this.#panel = panel;
    this.#data = data;
    this.#canvas = panel.querySelector("canvas")!;
    this.#choices = [...panel.querySelectorAll("select")];
    this.#spoken = panel.querySelector("output")!;
    this.#canvas.addEventListener("keydown", (event) => this.#step(event));
    for (const choice of this.#choices) choice.addEventListener("change", () => this.#choose());
    this.#dark.addEventListener("change", () => this.#draw());
    window.addEventListener("hashchange", () => this.#readAddress());
    panel.addEventListener("toggle", () => panel.open && this.#load());
    panel.hidden = false;
    this.#readAddress();
  }

  /** The drawing code is asked for once, and only by whoever opens the panel. */
  #load(): void {
    if (this.#loading) return;
    this.#loading = true;
    const script = document.createElement("script");
    script.src = this.#panel.dataset.drawingCode!;
    script.addEventListener("load", () => this.#draw());
    document.head.append(script);
  }

  #readAddress(): void {
    const [word, ...pairs] = window.location.hash.slice(1).split("&");
    if (word !== place) return;
    const asked = new URLSearchParams(pairs.join("&"));
    for (const choice of this.#choices) {
      const value = asked.get(choice.name);
      if ([...choice.options].some((option) => option.value === value)) choice.value = value!;
    }
    this.#panel.open = true;
    this.#panel.scrollIntoView();
    this.#draw();
  }

  #choose(): void {
    const asked = new URLSearchParams(this.#choices.map(({ name, value }) => [name, value]));
    window.history.replaceState(null, "", `#${place}&${asked}`);
    this.#draw();
  }

  #chosen(name: keyof Explorer["first"]): Dimension | null {
    const id = this.#choices.find((choice) => choice.name === name)!.value;
    return this.#data.dimensions.find((dimension) => dimension.id === id) ?? null;
  }

  #draw(): void {
    if (typeof Chart === "undefined") return;
    const [x, y] = [this.#chosen("x")!, this.#chosen("y")!];
    const left = (point: number) => x.values[point]!;
    this.#shown = this.#data.points
      .map((_, point) => point)
      .filter((point) => x.values[point] !== null && y.values[point] !== null)
      .sort((a, b) => left(a) - left(b) || a - b);
    this.#current = -1;
    this.#spoken.textContent = "";
    this.#chart?.destroy();
    const colour = this.#chosen("colour");
    this.#chart = new Chart(this.#canvas, {
      type: "line",
      data: {
        datasets: this.#groups(colour).map((group, order) => this.#dataset({ ...group, order, x, y })),
      },
      options: this.#options(colour !== null, x, y),
    });
  }

  #groups(colour: Dimension | null): { label: string; points: number[] }[] {
    if (colour === null) return [{ label: this.#data.passes, points: this.#shown }];
    const named = colour.names!.map((label, value) => ({
      label,
      points: this.#shown.filter((point) => colour.values[point] === value),
    }));
    const rest = {
      label: "not recorded",
      points: this.#shown.filter((point) => colour.values[point] === null),
    };
    return [...named, rest].filter(({ points }) => points.length > 0);
  }

  #dataset(group: {
    label: string;
    points: number[];
    order: number;
    x: Dimension;
    y: Dimension;
  }): ChartDataset<"line", Mark[]> {
    const ink = (this.#dark.matches ? inks.dark : inks.light)[group.order % shapes.length]!;
    const shape = shapes[group.order % shapes.length]!;
    return {
      label: group.label,
      data: group.points.map((point) => ({
        x: group.x.values[point]! + aside(group.x, point),
        y: group.y.values[point]! + aside(group.y, point),
        point,
      })),
      showLine: false,
      clip: false,
      pointStyle: shape,
      pointRadius: this.#shown.length > 400 ? 3 : 5,
      pointHoverRadius: 8,
      pointBorderWidth: lineShapes.includes(shape) ? 2 : 1,
      borderColor: ink,
      backgroundColor: ink,
    };
  }

  #options(withLegend: boolean, x: Dimension, y: Dimension): ChartOptions<"line"> {
    const { color, fontFamily: family } = getComputedStyle(this.#panel);
    const font = { family, size: 13 };
    return {
      animation: false,
      maintainAspectRatio: false,
      interaction: { mode: "nearest", intersect: true },
      onClick: (_, hits) => hits.length > 0 && this.#follow(this.#pointOf(hits[0]!)),
      onHover: (_, hits) => {
        this.#canvas.classList.toggle("leads-somewhere", hits.length > 0);
      },
      plugins: {
        legend: {
          display: withLegend,
          position: "bottom",
          align: "start",
          labels: { usePointStyle: true, pointStyleWidth: 12, boxHeight: 7, color, font },
        },
        tooltip: {
          displayColors: false,
          bodyFont: font,
          callbacks: {
            title: () => "",
            label: ({ raw }) => {
              const { text, missed } = this.#data.points[(raw as Mark).point]!;
              return missed === "" ? text : [text, ...missed.split(/(?<=,) /)];
            },
          },
        },
      },
      scales: { x: this.#scale(x, color, font), y: this.#scale(y, color, font) },
    };
  }

  #scale(
    { label, names, values, id }: Dimension,
    color: string,
    font: { family: string; size: number },
  ): Scale {
    const rule = this.#dark.matches ? "#3a4552" : "#cfd5dc";
    const common = { type: "linear" as const, title: { display: true, text: label, color, font } };
    const look = { grid: { color: rule }, border: { color: rule } };
    if (names !== null)
      return {
        ...{ ...common, ...look, min: -0.5, max: names.length - 0.5 },
        ticks: {
          ...{ color, font, stepSize: 1, autoSkip: false },
          callback: (tick) => names[Number(tick)] ?? "",
        },
        afterBuildTicks: (axis) => {
          axis.ticks = names.map((_, value) => ({ value }));
        },
      };
    const ends: { min?: number; max?: number } = {};
    if (id === "order") Object.assign(ends, { min: 0, max: values.length + 1 });
    if (id === "share") Object.assign(ends, { min: floorOf(values), max: 100 });
    return {
      ...common,
      ...look,
      ...ends,
      ticks: { color, font, precision: id === "order" ? 0 : 1, includeBounds: id !== "order" },
    };
  }

  #pointOf({ datasetIndex, index }: Pick<ActiveElement, "datasetIndex" | "index">): number {
    return this.#chart!.data.datasets[datasetIndex]!.data[index]!.point;
  }

  #follow(point: number): void {
    window.location.href = this.#data.points[point]!.href;
  }

  #show(step: number): void {
    const chart = this.#chart!;
    const point = this.#shown[step]!;
    this.#current = step;
    const hits = chart.data.datasets.flatMap(({ data }, datasetIndex) =>
      data.flatMap((mark, index) => (mark.point === point ? [{ datasetIndex, index }] : [])),
    );
    const { x, y } = chart.getDatasetMeta(hits[0]!.datasetIndex).data[hits[0]!.index]!;
    chart.setActiveElements(hits);
    chart.tooltip!.setActiveElements(hits, { x, y });
    chart.update();
    const { text, missed } = this.#data.points[point]!;
    this.#spoken.textContent = missed === "" ? text : `${text}. ${missed}`;
  }

  #step(event: KeyboardEvent): void {
    const last = this.#shown.length - 1;
    if (this.#chart === null || last < 0) return;
    const steps: Record<string, number> = {
      ArrowRight: Math.min(this.#current + 1, last),
      ArrowLeft: Math.max(this.#current - 1, 0),
      Home: 0,
      End: last,
    };
    const step = steps[event.key];
    if (event.key === "Enter" && this.#current >= 0) this.#follow(this.#shown[this.#current]!);
    else if (step !== undefined) this.#show(step);
    else return;
    event.preventDefault();
  }
}

/** Passes of one name stand a little aside of each other, each always in the same place. */
function aside({ names }: Dimension, point: number): number {
  return names === null ? 0 : ((point % 11) - 5) * 0.05;
}

/** The lowest share, rounded down, with some room below it. */
function floorOf(values: (number | null)[]): number {
  const lowest = values.reduce<number>((low, value) => Math.min(low, value ?? 100), 100);
  return Math.max(0, Math.floor((lowest - 2) / 10) * 10);
}

const panel = document.querySelector<HTMLDetailsElement>("[data-explore]");
const island = document.getElementById("explore-data");
if (panel !== null && island !== null) new ExplorePanel(panel, JSON.parse(island.textContent ?? ""));
