import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { measures } from "../../../src/measures/index.ts";
import { figuresOf } from "../../../src/measures/scales.ts";
import type { Estimate, LevelEstimate } from "../../../src/model/estimate.ts";
import type { State } from "../../../src/model/state.ts";
import { findingRow } from "../../../src/pages/parts/finding-figures.ts";
import {
  evenRateAxis,
  fromZeroAxis,
  levelAxis,
  stretchedRateAxis,
} from "../../../src/pages/pictures/axis.ts";
import { minuteBarsPicture, rssiHistogramPicture } from "../../../src/pages/pictures/bars.ts";
import { conditionGridPicture } from "../../../src/pages/pictures/condition-grid.ts";
import { floorPlanPicture } from "../../../src/pages/pictures/floor-plan.ts";
import type { IntervalRow } from "../../../src/pages/pictures/interval-line.ts";
import { intervalPicture } from "../../../src/pages/pictures/interval-picture.ts";
import { stateBox } from "../../../src/pages/pictures/signs.ts";
import { spreadPicture } from "../../../src/pages/pictures/spread-strip.ts";
import { escapeText, frame } from "../../../src/pages/pictures/svg.ts";
import { fitText, textWidth } from "../../../src/pages/pictures/text-fit.ts";
import { hostile, sampleEstimate, sampleResult } from "../sample-result.ts";

const texts = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1] as string);
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");
const rowOf = (index: number, label = "Read point"): IntervalRow =>
  findingRow(sampleResult.findings[index]!, { label, detail: "Tag orientation: edge-on" });
const picture = (rows: IntervalRow[]) =>
  intervalPicture({ id: "p", title: "Title", description: "Description", rows, scale: "stretched" });

/** Fails where a picture is not well formed: every tag closed, every attribute quoted. */
function expectWellFormed(svg: string): void {
  const open: string[] = [];
  const rest = svg.replace(
    /<(\/?)([a-z]+)((?: [a-zA-Z0-9-]+="[^"<]*")*)(\/?)>/g,
    (_, close, name, __, self) => {
      if (close) expect(open.pop()).toBe(name);
      else if (!self) open.push(name);
      return "";
    },
  );
  expect(open).toEqual([]);
  expect(rest).not.toMatch(/[<>]/);
  expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
}

describe("every picture", () => {
  it("shows hostile text as text", () => {
    const row = rowOf(0, hostile.markup);
    const plan = sampleResult.facility.floorPlan;
    const pictures = [
      picture([row]),
      floorPlanPicture({
        id: "plan",
        imageHref: "",
        title: hostile.markup,
        description: hostile.rightToLeft,
        plan: { ...plan!, areas: [{ name: hostile.markup, x: 0, y: 0, width: 90, height: 50 }] },
        points: [
          {
            letter: "A",
            href: "read-points/x.html",
            name: "X",
            state: "met",
            conceded: "none",
            at: { x: 10, y: 10 },
          },
        ],
      }),
      conditionGridPicture({
        id: "grid",
        title: hostile.formula,
        description: "",
        rowLabel: hostile.markup,
        columnLabel: hostile.long,
        rowValues: [hostile.markup],
        columnValues: [hostile.rightToLeft, hostile.long],
        cells: [
          { passes: 0, tagReadRate: sampleEstimate(0, 0) },
          { passes: 2, tagReadRate: sampleEstimate(39, 40) },
        ],
        from: 0.9,
        marked: 1,
      }),
    ];
    for (const svg of pictures) {
      expectWellFormed(svg);
      expect(svg).not.toContain("<script");
      expect(svg).not.toContain("<b>");
    }
    expect(escapeText(`<&>"'\u0007`)).toBe("&lt;&amp;&gt;&quot;&#39;\ufffd");
  });
  it("says in words what it shows", () => {
    const svg = frame(
      { id: "x", width: 10, height: 10, title: "A title", description: "What it shows", className: "wide" },
      "",
    );
    expect(svg).toContain('aria-labelledby="x-title x-desc"');
    expect(svg).toContain('<title id="x-title">A title</title><desc id="x-desc">What it shows</desc>');
    expect(svg).not.toContain("style=");
  });
});

describe("the state box", () => {
  it("differs by shape and not by colour alone", () => {
    const shapes = (["met", "not-met", "undecided", "untested"] as State[]).map((state) =>
      stateBox(state).replace(/ (class|fill|stroke)="[^"]*"/g, ""),
    );
    expect(new Set(shapes).size).toBe(4);
  });
  it("folds a corner for a concession in force, and for no other", () => {
    expect(stateBox("not-met", "current")).toContain("box-flap");
    expect(stateBox("not-met", "expired")).toBe(stateBox("not-met"));
  });
});

describe("the axis of rates", () => {
  it("rises with the rate and stays between its ends", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 2, maxLength: 9 }),
        fc.constantFrom("at-least" as const, "at-most" as const),
        (rates, sense) => {
          for (const axis of [stretchedRateAxis(rates, sense), evenRateAxis(rates, sense)]) {
            const sorted = [...rates].sort((a, b) => a - b).map(axis.position);
            expect(sorted.every((place) => place >= 0 && place <= 1)).toBe(true);
            expect(sorted.every((place, i) => i === 0 || place >= (sorted[i - 1] as number))).toBe(true);
            expect(axis.from).toBeLessThanOrEqual(Math.min(...rates) + 1e-9);
            expect(axis.to).toBeGreaterThanOrEqual(Math.max(...rates) - 1e-9);
          }
        },
      ),
    );
  });
  it("says so where it does not start at 0", () => {
    expect(plain(stretchedRateAxis([0.93, 1], "at-least").note)).toMatch(/starts at 90 %, not at 0/);
    expect(stretchedRateAxis([0, 1], "at-least").note).not.toMatch(/starts/);
    expect(plain(stretchedRateAxis([0.2], "at-most").note)).toMatch(/ends at 20 %/);
    expect(evenRateAxis([0.1, 1], "at-least").note).toBe("");
  });
  it("has labelled ticks for signal strength around what is shown", () => {
    const axis = levelAxis([-71.5, -62]);
    expect(axis.from).toBeLessThan(-71.5);
    expect(axis.to).toBeGreaterThan(-62);
    expect(axis.ticks[0]?.label).toMatch(/^\u2212/);
  });
});

describe("the interval picture", () => {
  it("carries state word, count, the three figures and the limit of every row", () => {
    const said = texts(picture([rowOf(2)])).map(plain);
    for (const text of ["not met", "106 of 128", "82.8", "69.8", "90.9", "97 % required"])
      expect(said).toContain(text);
  });
  it("leaves the track of a finding that nobody walked empty and says so", () => {
    const finding = { ...sampleResult.findings[6]!, passes: 0, estimate: sampleEstimate(0, 0) };
    const svg = picture([findingRow(finding, { label: "Desk", detail: "" })]);
    expect(texts(svg)).toContain("no pass walked");
    expect(svg).not.toContain('class="interval"');
    expectWellFormed(svg);
  });
  it("draws a bound on a missed tag as an open wedge and a bound that does not exist as a dashed end", () => {
    const missed = picture([rowOf(10)]);
    expect(missed).toContain("interval-open");
    expect(texts(missed)).toContain("missed");
    const without: LevelEstimate = {
      ...(sampleResult.findings[9]!.estimate as LevelEstimate),
      upper: null,
      onMiss: { value: false, lower: false, upper: false },
    };
    const finding = { ...sampleResult.findings[9]!, estimate: without };
    const open = picture([findingRow(finding, { label: "Dock", detail: "" })]);
    expect(open).toContain('stroke-dasharray="3 3"');
    expectWellFormed(open);
  });
  it("parts many rows into pictures that each fit a page, all on one axis", () => {
    const svg = picture(Array.from({ length: 26 }, (_, i) => rowOf(i === 0 ? 2 : 0)));
    expect(svg.match(/<svg /g)).toHaveLength(6);
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(svg.match(/The axis starts at/g)?.length).toBeGreaterThanOrEqual(3);
  });
  it("draws an earlier estimate thin and open beside the later one", () => {
    const { limit, sense, measure } = sampleResult.findings[2]!;
    const { scale } = measures.get(measure);
    const line = (label: string, estimate: Estimate, earlier: boolean) => ({
      label,
      estimate,
      count: "",
      figures: figuresOf(estimate, { scale, sense, limit }),
      earlier,
      emptyWord: "no pass walked",
    });
    const svg = picture([
      {
        ...rowOf(2),
        lines: [
          line("As found", sampleEstimate(90, 100), true),
          line("As left", sampleEstimate(99, 100), false),
        ],
      },
    ]);
    expect(svg).toContain("<circle");
    expect(texts(svg)).toContain("As left");
    expectWellFormed(svg);
  });
});

const bareGround = { widthMetres: 20, depthMetres: 10, areas: [] };

describe("the other pictures", () => {
  it("stand read points on an image, which fills the plan", () => {
    const svg = floorPlanPicture({
      ...{ id: "p", title: "Plan", description: "", plan: bareGround, imageHref: "pictures/a&b.png" },
      points: [],
    });
    expect(svg).toContain('<image href="pictures/a&amp;b.png" x="1" y="1" width="558" height="279"');
    expectWellFormed(svg);
  });
  it("letter the read points that have a place and leave out the others", () => {
    const svg = floorPlanPicture({
      id: "plan",
      title: "Plan",
      description: "",
      plan: bareGround,
      imageHref: "",
      points: [
        {
          letter: "A",
          href: "read-points/x.html",
          name: "X",
          state: "met",
          conceded: "none",
          at: { x: 0, y: 100 },
        },
        { letter: "B", href: "read-points/x.html", name: "X", state: "met", conceded: "none", at: null },
      ],
    });
    expect(texts(svg)).toEqual(["A", "5\u00a0m", "A", "5\u00a0m"]);
    expectWellFormed(svg);
  });
  it("lead from the marks of the plan to the read points, and are then a group that can be walked through", () => {
    const mark = { letter: "A", state: "met", conceded: "none", at: { x: 50, y: 50 } } as const;
    const svg = floorPlanPicture({
      ...{ id: "p", title: "Plan", description: "", plan: bareGround, imageHref: "" },
      points: [{ ...mark, href: "read-points/dock-1.html", name: "Dock door 1" }],
    });
    expect(svg).toContain('<a href="read-points/dock-1.html" aria-label="A: Dock door 1">');
    expect(svg).toContain('role="group"');
    expect(svg).not.toContain('role="img"');
  });
  it("tell an undecided line from one that is not met without colour", () => {
    const drawn = (state: "undecided" | "not-met") => {
      const finding = sampleResult.findings.find((one) => one.state === state && one.estimate.n > 0)!;
      return picture([findingRow(finding, { label: "Dock", detail: "" })]);
    };
    expect(drawn("undecided")).toContain('class="interval-core"');
    expect(drawn("not-met")).not.toContain('class="interval-core"');
  });
  it("show a cell that nobody walked as a gap", () => {
    const grid = sampleResult.readPoints[1]!.rounds[1]!.grids[1]!;
    const svg = conditionGridPicture({
      id: "g",
      title: "Grid",
      description: "",
      rowLabel: "Speed",
      columnLabel: "Load",
      rowValues: grid.rowValues,
      columnValues: grid.columnValues,
      cells: grid.cells,
      from: 0.9,
      marked: null,
    });
    const gaps = grid.cells.filter((cell) => cell.passes === 0).length;
    expect(gaps).toBeGreaterThan(0);
    expect(texts(svg).filter((text) => text === "not walked")).toHaveLength(gaps);
    expectWellFormed(svg);
  });
  it("put the limit asked into the histogram of signal strength", () => {
    const svg = rssiHistogramPicture({
      id: "r",
      title: "Signal",
      description: "",
      rssi: sampleResult.readPoints[0]!.rounds[1]!.rssi!,
      limitsDbm: [-70],
    });
    expect(texts(svg).map(plain)).toContain("\u221270 dBm required");
    expectWellFormed(svg);
  });
});

describe("text in pictures", () => {
  it("never grows wider than its place and keeps to its lines", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300 }), fc.integer({ min: 1, max: 3 }), (text, lines) => {
        const fitted = fitText(text, { width: 120, size: 13, lines });
        expect(fitted.length).toBeLessThanOrEqual(lines);
        for (const line of fitted) expect(textWidth(line, 13)).toBeLessThanOrEqual(120);
      }),
    );
  });
});

describe("pictures of what a reader heard", () => {
  const text = (value: number) => value.toFixed(1);
  const spread = { n: 40, min: 1, q05: 2, median: 9, q95: 30, max: 55 };
  const strips = spreadPicture({
    id: "s",
    title: hostile.markup,
    description: "d",
    rows: [
      { label: hostile.markup, spread },
      { label: "Antenna 2", spread: { n: 1, min: 4, q05: 4, median: 4, q95: 4, max: 4 } },
    ],
    axis: fromZeroAxis([55]),
    unit: "",
    text,
  });
  const bars = (passes: { from: number; to: number }[]) =>
    minuteBarsPicture({
      id: "m",
      title: "t",
      description: "d",
      from: 0,
      to: 60,
      step: 1,
      bars: [{ from: 5, count: 3 }],
      passes,
      ticks: [{ at: 0, label: "09:00" }],
      axisText: hostile.markup,
    });

  it("are well formed, for a page and for a phone, with their figures printed", () => {
    expectWellFormed(strips);
    expectWellFormed(bars([{ from: 1, to: 2 }]));
    expect(strips.match(/<svg /g)).toHaveLength(2);
    expect(texts(strips)).toEqual(expect.arrayContaining(["2.0", "9.0", "30.0"]));
  });
  it("keep every strip inside its picture, and a single value visible", () => {
    for (const [, x, width] of strips.matchAll(
      /<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="9"/g,
    )) {
      expect(Number(x) + Number(width)).toBeLessThan(720);
      expect(Number(width)).toBeGreaterThanOrEqual(1);
    }
  });
  it("draw thousands of passes as a few marks", () => {
    const passes = Array.from({ length: 5000 }, (_, i) => ({
      from: (i * 60) / 5000,
      to: ((i + 0.5) * 60) / 5000,
    }));
    expect(bars(passes).match(/class="pass-time"/g)?.length).toBeLessThan(1500);
  });
  it("put tags a minute on an axis of their own that starts at 0 and says so", () => {
    const idle = sampleResult.findings.findIndex(({ measure }) => measure === "idle-read-rate");
    const svg = picture([rowOf(idle)]);
    expectWellFormed(svg);
    expect(texts(svg)).toEqual(
      expect.arrayContaining([
        "Tags a minute.",
        "0.3 tags a minute allowed",
        "3 in 31.7\u202fmin",
        "0",
        "0.3",
      ]),
    );
  });
});
