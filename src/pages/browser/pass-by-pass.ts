import type { ActiveElement, ChartDataset, Chart as ChartOf, ChartOptions } from "chart.js";
import type { PassChart } from "../read-point/pass-chart.ts";

/** A script of its own on the page. */
declare const Chart: typeof ChartOf<"line", Mark[]> | undefined;

interface Mark {
  x: number;
  y: number;
  /** Its place among the points. */
  point: number;
}

// Shape and colour change together, so that neither is needed to tell two values apart.
const shapes = ["circle", "rect", "triangle", "rectRot", "star", "cross", "rectRounded", "crossRot"] as const;
const inks = {
  light: ["#1f5a7a", "#a33b1f", "#14635f", "#8a6400", "#5b4a8a", "#56616f", "#8a2f5d", "#3f6b1e"],
  dark: ["#7fbfe0", "#f0977b", "#6fcac4", "#e0b84a", "#b9a8ec", "#b4bdc8", "#e59ac0", "#a5cf7f"],
};
const lineShapes: string[] = ["star", "cross", "crossRot"];

/**
 * Draws "Pass by pass" on screen. Everything it says comes finished in the page's own data; the table of passes on the
 * same page says the same without it.
 */
class PassByPass {
  readonly #figure: HTMLElement;
  readonly #data: PassChart;
  readonly #canvas: HTMLCanvasElement;
  readonly #choice: HTMLSelectElement;
  readonly #spoken: HTMLOutputElement;
  readonly #dark = window.matchMedia("(prefers-color-scheme: dark)");
  #chart: ChartOf<"line", Mark[]> | null = null;
  #current = -1;

  constructor(figure: HTMLElement, data: PassChart) {
    this.#figure = figure;
    this.#data = data;
    this.#canvas = figure.querySelector("canvas")!;
    this.#choice = figure.querySelector("select")!;
    this.#spoken = figure.querySelector("output")!;
    this.#canvas.addEventListener("keydown", (event) => this.#step(event));
    this.#choice.addEventListener("change", () => this.#draw());
    this.#dark.addEventListener("change", () => this.#draw());
    figure.hidden = false;
    this.#draw();
  }

  #draw(): void {
    const condition = this.#data.conditions[Number(this.#choice.value)];
    this.#chart?.destroy();
    this.#chart = new Chart!(this.#canvas, {
      type: "line",
      data: { datasets: this.#groups(condition).map((group, order) => this.#dataset(group, order)) },
      options: this.#options(condition !== undefined),
    });
  }

  #groups(condition: PassChart["conditions"][number] | undefined): { label: string; points: number[] }[] {
    if (condition === undefined) {
      return [{ label: this.#data.words.passes, points: this.#data.points.map((_, i) => i) }];
    }
    const groups = condition.values.map((label) => ({ label, points: [] as number[] }));
    for (const [i, value] of condition.of.entries()) groups[value]!.points.push(i);
    return groups.filter(({ points }) => points.length > 0);
  }

  #dataset(
    { label, points }: { label: string; points: number[] },
    order: number,
  ): ChartDataset<"line", Mark[]> {
    const ink = (this.#dark.matches ? inks.dark : inks.light)[order % shapes.length]!;
    const shape = shapes[order % shapes.length]!;
    return {
      label,
      data: points.map((point) => ({ x: point + 1, y: this.#data.points[point]!.share, point })),
      showLine: false,
      clip: false,
      pointStyle: shape,
      pointRadius: this.#data.points.length > 400 ? 3 : 5,
      pointHoverRadius: 8,
      pointBorderWidth: lineShapes.includes(shape) ? 2 : 1,
      borderColor: ink,
      backgroundColor: ink,
    };
  }

  #options(withLegend: boolean): ChartOptions<"line"> {
    const { color, fontFamily: family } = getComputedStyle(this.#figure);
    const font = { family, size: 14 };
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
          callbacks: { title: () => "", label: ({ raw }) => this.#data.points[(raw as Mark).point]!.text },
        },
      },
      scales: this.#scales(color, font),
    };
  }

  #scales(
    color: string,
    font: { family: string; size: number },
  ): NonNullable<ChartOptions<"line">["scales"]> {
    const { points, words, from } = this.#data;
    const rule = this.#dark.matches ? "#3a4552" : "#cfd5dc";
    return {
      x: {
        type: "linear",
        min: 0,
        max: points.length + 1,
        title: { display: true, text: words.across, color, font },
        ticks: {
          color,
          font,
          precision: 0,
          callback: (tick) => (Number(tick) >= 1 && Number(tick) <= points.length ? tick : ""),
        },
        grid: { display: false },
        border: { color: rule },
      },
      y: {
        min: from,
        max: 100,
        title: { display: true, text: words.up, color, font },
        ticks: { color, font },
        grid: { color: rule },
        border: { display: false },
      },
    };
  }

  #pointOf({ datasetIndex, index }: Pick<ActiveElement, "datasetIndex" | "index">): number {
    return this.#chart!.data.datasets[datasetIndex]!.data[index]!.point;
  }

  #follow(point: number): void {
    window.location.href = this.#data.points[point]!.href;
  }

  #show(point: number): void {
    const chart = this.#chart!;
    this.#current = point;
    const hits = chart.data.datasets.flatMap(({ data }, datasetIndex) =>
      data.flatMap((mark, index) => (mark.point === point ? [{ datasetIndex, index }] : [])),
    );
    const { x, y } = chart.getDatasetMeta(hits[0]!.datasetIndex).data[hits[0]!.index]!;
    chart.setActiveElements(hits);
    chart.tooltip!.setActiveElements(hits, { x, y });
    chart.update();
    this.#spoken.textContent = this.#data.points[point]!.text;
  }

  #step(event: KeyboardEvent): void {
    const last = this.#data.points.length - 1;
    const steps: Record<string, number> = {
      ArrowRight: Math.min(this.#current + 1, last),
      ArrowLeft: Math.max(this.#current - 1, 0),
      Home: 0,
      End: last,
    };
    const point = steps[event.key];
    if (event.key === "Enter" && this.#current >= 0) this.#follow(this.#current);
    else if (point !== undefined) this.#show(point);
    else return;
    event.preventDefault();
  }
}

const figure = document.querySelector<HTMLElement>("[data-pass-by-pass]");
const island = document.getElementById("pass-by-pass-data");
if (figure !== null && island !== null && typeof Chart !== "undefined") {
  new PassByPass(figure, JSON.parse(island.textContent ?? ""));
}
