import { countText, decimalText, statedNumber } from "../../model/number-words.ts";
import type { RssiSummary } from "../../model/result.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface RssiPicture {
  id: string;
  title: string;
  description: string;
  rssi: RssiSummary;
  /** Limits of RSSI criteria at this read point, dBm. */
  limitsDbm: number[];
}

const width = 720;
const left = 46;
const right = 704;
const plotHeight = 170;

/** The strongest RSSI of the tags read, in equal steps, with its 5 % point, median and 95 % point, and any limit asked. */
export function rssiHistogramPicture({ id, title, description, rssi, limitsDbm }: RssiPicture): string {
  const { bins, binWidthDb } = rssi;
  const firstBin = bins[0]?.fromDbm ?? rssi.minDbm;
  const lastBin = (bins[bins.length - 1]?.fromDbm ?? rssi.maxDbm) + binWidthDb;
  const from = Math.min(firstBin, ...limitsDbm) - binWidthDb / 2;
  const to = Math.max(lastBin, ...limitsDbm) + binWidthDb / 2;
  const x = (dbm: number) => left + ((right - left) * (dbm - from)) / (to - from);
  const most = Math.max(1, ...bins.map((bin) => bin.count));
  const rules = [
    { dbm: rssi.q05Dbm, text: `5 % at or below ${decimalText(rssi.q05Dbm, 1)}`, heavy: false },
    { dbm: rssi.medianDbm, text: `median ${decimalText(rssi.medianDbm, 1)}`, heavy: false },
    { dbm: rssi.q95Dbm, text: `95 % at or below ${decimalText(rssi.q95Dbm, 1)}`, heavy: false },
    ...limitsDbm.map((dbm) => ({ dbm, text: `${statedNumber(dbm)} dBm asked`, heavy: true })),
  ];
  const labels = ruleLabels(rules, x);
  const top = labels.height + 6;
  const bottom = top + plotHeight;
  const bars = bins.map((bin) => {
    const height = ((plotHeight - 8) * bin.count) / most;
    return element("rect", {
      x: x(bin.fromDbm) + 0.75,
      y: bottom - height,
      width: Math.max(0.5, x(bin.fromDbm + binWidthDb) - x(bin.fromDbm) - 1.5),
      height,
      class: "bar",
      fill: "#1f5a7a",
    });
  });
  const verticals = labels.placed.map(({ dbm, level, heavy }) =>
    element("line", {
      x1: x(dbm),
      x2: x(dbm),
      y1: top - 3 - 15 * level,
      y2: bottom,
      class: heavy ? "limit" : "leader",
      stroke: heavy ? ink.text : ink.second,
      "stroke-width": heavy ? 1.75 : 1,
      "stroke-dasharray": heavy ? null : "4 3",
    }),
  );
  const texts = labels.placed.map(({ textX, level, text, heavy }) =>
    textAt(textX, top - 6 - 15 * level, text, {
      "text-anchor": "start",
      "font-size": 12.5,
      "font-weight": heavy ? 600 : null,
      class: heavy ? "ink" : "second",
      fill: heavy ? ink.text : ink.second,
    }),
  );
  return frame(
    { id, width, height: bottom + 38, title, description, className: "histogram" },
    bars.join("") +
      baseline(bottom) +
      verticals.join("") +
      texts.join("") +
      scale(from, to, x, bottom, most, top),
  );
}

function baseline(y: number): string {
  return element("line", {
    x1: left,
    x2: right,
    y1: y,
    y2: y,
    class: "leader",
    stroke: ink.second,
    "stroke-width": 1,
  });
}

interface Rule {
  dbm: number;
  text: string;
  heavy: boolean;
}

function ruleLabels(rules: Rule[], x: (dbm: number) => number) {
  const placed: (Rule & { textX: number; end: number; level: number })[] = [];
  for (const rule of [...rules].sort((a, b) => b.dbm - a.dbm)) {
    const wide = textWidth(rule.text, 12.5);
    const textX = Math.max(0, Math.min(x(rule.dbm) + 4, width - wide));
    let level = 0;
    const clashes = (other: (typeof placed)[number]) =>
      other.level === level && textX < other.end + 10 && other.textX < textX + wide + 10;
    while (placed.some(clashes)) level += 1;
    placed.push({ ...rule, textX, end: textX + wide, level });
  }
  return { placed, height: 15 * (Math.max(0, ...placed.map((label) => label.level)) + 1) };
}

function scale(
  from: number,
  to: number,
  x: (dbm: number) => number,
  bottom: number,
  most: number,
  top: number,
): string {
  const step = [1, 2, 5, 10, 20].find((size) => (to - from) / size <= 10) ?? 20;
  const quiet = { "font-size": 12, class: "second", fill: ink.second };
  const ticks: string[] = [];
  for (let dbm = Math.ceil(from / step) * step; dbm <= to; dbm += step) {
    ticks.push(textAt(x(dbm), bottom + 16, statedNumber(dbm), { ...quiet, "text-anchor": "middle" }));
  }
  const countAxis =
    textAt(left - 6, bottom, "0", { ...quiet, "text-anchor": "end" }) +
    textAt(left - 6, top + 14, countText(most), { ...quiet, "text-anchor": "end" }) +
    textAt(left - 6, top + 28, "tags", { ...quiet, "text-anchor": "end" });
  return (
    ticks.join("") +
    countAxis +
    textAt(right, bottom + 33, "strongest RSSI of each tag read, dBm", { ...quiet, "text-anchor": "end" })
  );
}
