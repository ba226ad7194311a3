import { ofPresentations } from "./independent-interval.ts";
import { quantile } from "./independent-quantile.ts";
import { bare } from "./pages-in-common.ts";
import { bandOf } from "./pass-rows.ts";
import { dbm, flanked } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import { passesOf, presented, tagsRead, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

interface Group {
  name: string;
  rows: RawRow[];
}

/** What the page of the read point says of conditions, signals and antennas, with the figures of the recount. */
export function evidenceStatements({ after, findings }: Shed): string[] {
  const rows = presented(withoutVoids(after));
  const limitDbm = findings.find(({ measure }) => measure === "rssi-quantile")!.limit;
  return [...conditions(rows), ...grid(rows), ...signals(rows, limitDbm), ...antennas(rows)];
}

const speeds = (rows: RawRow[]): Group[] =>
  ["0 to 1", "1 to 2"].map((band) => ({
    name: `${band} m/s`,
    rows: rows.filter(({ speed }) => bandOf(speed) === band),
  }));

const orientations = (rows: RawRow[]): Group[] =>
  ["edge-on", "facing"].map((name) => ({
    name,
    rows: rows.filter(({ orientation }) => orientation === name),
  }));

const kOfN = (rows: RawRow[]) => `${tagsRead(rows).k} of ${tagsRead(rows).n}`;
const interval = (rows: RawRow[]) => flanked(ofPresentations(tagsRead(rows)), "at least");
const rate = (rows: RawRow[]) => tagsRead(rows).k / tagsRead(rows).n;

function conditions(rows: RawRow[]): string[] {
  const groups = [...speeds(rows), ...orientations(rows)];
  const lowest = [speeds(rows), orientations(rows)].map(
    ([one, other]) => [one!, other!].sort((a, b) => rate(a.rows) - rate(b.rows))[0]!,
  );
  return [
    `Lowest rates: Speed ${lowest.map((group) => `${group.name} (${kOfN(group.rows)})`).join("; Tag orientation ")}.`,
    // Rows of the picture follow each other; those of the table name their passes.
    groups.map(({ name, rows }) => `${name} … ${kOfN(rows)} ${interval(rows)}`).join(" … "),
    ...groups.map(
      ({ name, rows }) => `${name} … ${passesOf(rows).length} pass… ${kOfN(rows)} ${interval(rows)}`,
    ),
  ];
}

function grid(rows: RawRow[]): string[] {
  const cells = speeds(rows).flatMap((speed) =>
    orientations(speed.rows).map(({ name, rows }) => ({ name: `${speed.name}, ${name}`, rows })),
  );
  const walked = cells.filter(({ rows }) => rows.length > 0);
  const lowest = walked.reduce((low, cell) => (rate(cell.rows) < rate(low.rows) ? cell : low));
  return [
    `All ${walked.length} combinations were walked. Lowest: ${lowest.name} (${kOfN(lowest.rows)})`,
    `edge-on facing ${speeds(rows)
      .map(({ name }) => name)
      .join(" ")} ${cells
      .map(({ rows }) => `${bare(rate(rows))} % ${tagsRead(rows).k}/${tagsRead(rows).n}`)
      .join(" ")}`,
    ...cells.map(
      ({ name, rows }) => `${name} ${passesOf(rows).length} pass… ${kOfN(rows)} ${interval(rows)}`,
    ),
  ];
}

function signals(rows: RawRow[], limitDbm: number): string[] {
  const heard = rows.filter(({ read }) => read).map(({ rssiDbm }) => rssiDbm!);
  heard.sort((one, other) => one - other);
  const at = (q: number) => dbm(quantile(heard, q));
  const step = 2;
  const steps: { from: number; tags: number }[] = [];
  for (let from = Math.floor(heard[0]! / step) * step; from <= heard.at(-1)!; from += step)
    steps.push({ from, tags: heard.filter((signal) => signal >= from && signal < from + step).length });
  const edges = [...steps.map(({ from }) => from), steps.at(-1)!.from + step].map((edge) => dbm(edge, 0));
  const most = Math.max(...steps.map(({ tags }) => tags));
  return [
    `between ${at(0)} dBm and ${at(1)} dBm, half of them at ${at(0.5)} dBm or stronger`,
    `95 % at or below ${at(0.95)} median ${at(0.5)} ${dbm(limitDbm, 0)} dBm required 5 % at or below ${at(0.05)} ${edges.join(" ")} 0 ${most} tags strongest RSSI`,
    `From, dBm … ${steps.map(({ from, tags }) => `${dbm(from, 0)} ${dbm(from + step, 0)} ${tags}`).join(" ")} door-rssi.csv`,
  ];
}

function antennas(rows: RawRow[]): string[] {
  const heard = rows.filter(({ read }) => read);
  const names = [...new Set(heard.map(({ antenna }) => antenna))].sort();
  const row = (name: string) => {
    const signals = heard.filter(({ antenna }) => antenna === name).map(({ rssiDbm }) => rssiDbm!);
    signals.sort((one, other) => one - other);
    return `${name} ${signals.length} ${dbm(quantile(signals, 0.5))}`;
  };
  return [
    `The logs name ${names.length} antennas`,
    `Median signal, dBm ${names.map(row).join(" ")} door-antennas.csv`,
  ];
}
