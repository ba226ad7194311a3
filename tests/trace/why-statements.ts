import { quantile } from "./independent-quantile.ts";
import * as common from "./pages-in-common.ts";
import { bandOf } from "./pass-rows.ts";
import { dbm, longDate, spelled } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import { passesOf, presented, strayPasses, tagsRead, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

/** What the page of the misses says of antennas, signal and strays, with the figures of the recount. */
export function whyStatements(shed: Shed): string[] {
  const { facts, rows, after } = shed;
  const judged = facts.rounds.at(-1)!;
  const own = presented(withoutVoids(after));
  const strays = uninvited(after);
  const stray = strays[0]!;
  const uninvitedPasses = strayPasses(withoutVoids(after));
  return [
    ...common.onEveryPage(shed),
    missesSentence(shed),
    `Round judged ${judged.title}, ${longDate(judged.date)}`,
    ...map(own),
    ...drivers(own),
    ...antennas(own),
    ...signals(own, rows),
    ...steps(own),
    "Weakest, dBm 5 %, dBm Median",
    "The column 5 % is the level",
    "An interval that holds 1 shows no effect",
    `${uninvitedPasses.k} of ${uninvitedPasses.n} passes read a tag that they did not present. ${strays.length} code is unknown here (${passesOf(strays).length} pass).`,
    `Antennas ${stray.tag} unknown here ${passesOf(strays).length} ${dbm(stray.rssiDbm!)} ${stray.antenna}`,
  ];
}

/** The sentence that the page of the read point repeats. */
export function missesSentence({ after }: Shed): string {
  const { k, n } = tagsRead(presented(withoutVoids(after)));
  return `The ${n - k} misses show no pattern that the evidence carries.`;
}

/** The tables of the page, and how many rows each has. */
export function whyTables({ after }: Shed): [string, number][] {
  const own = presented(withoutVoids(after));
  return [
    ["door-why-map.csv", new Set(own.map(({ tag }) => tag)).size * passesOf(own).length],
    ["door-why-drivers.csv", levelsOfConditions(own).length],
    ["door-why-antennas.csv", antennasOf(own).length],
    ["door-why-signal.csv", groups(own).length],
    ["door-why-signal-steps.csv", stepsOf(own).length],
    ["door-why-strays.csv", uninvited(after).length],
  ];
}

/** The map's caption, its labels and the tags missed, the most often missed first. */
function map(rows: RawRow[]): string[] {
  const passes = passesOf(rows);
  const tags = [...new Set(rows.map(({ tag }) => tag))].sort().map((tag) => {
    const own = rows.filter((row) => row.tag === tag);
    return { tag, n: own.length, missedIn: own.filter(({ read }) => !read).map(({ pass }) => pass) };
  });
  tags.sort((one, other) => other.missedIn.length - one.missedIn.length);
  const missed = tags.filter(({ missedIn }) => missedIn.length > 0);
  const inPasses = new Set(missed.flatMap(({ missedIn }) => missedIn));
  const misses = missed.reduce((sum, { missedIn }) => sum + missedIn.length, 0);
  const caption = `${misses} misses on ${missed.length} of ${tags.length} tags, in ${inPasses.size} of ${passes.length} passes.`;
  const names = [...tags.map(({ tag }) => tag), ...new Set(rows.map(({ pass }) => pass))].join(" ");
  const counts = missed.map(({ n, missedIn }) => `${missedIn.length}/${n}`).join(" ");
  const byPass = [...new Set(rows.map(({ pass }) => pass))].flatMap((pass) => {
    const count = missed.filter(({ missedIn }) => missedIn.includes(pass)).length;
    return count === 0 ? [] : [`${pass} ${count}`];
  });
  return [
    `in which passes ${caption}`,
    `Misses by pass: ${byPass.join(", ")}.`,
    `Tags by passes ${caption} ${names} ${counts}`,
    `In passes ${missed.map(({ tag, n, missedIn }) => `${tag} ${missedIn.length} of ${n} ${missedIn.join(", ")}`).join(" ")}`,
  ];
}

const levelsOfConditions = (rows: RawRow[]) => [
  ...["0 to 1", "1 to 2"].map((band) => ({
    name: `Speed ${band} m/s`,
    rows: rows.filter(({ speed }) => bandOf(speed) === band),
  })),
  ...["edge-on", "facing"].map((name) => ({
    name: `Tag orientation ${name}`,
    rows: rows.filter(({ orientation }) => orientation === name),
  })),
];

/** What the regression and the components come to is tested where they are: here stands what they print of this log. */
const modelled = ["", "0.54 to 5.9 0.15", "", "0.00029 to 1.1 0.052"];
const shares = "25 % goes with particular tags, 12 % with particular passes and 63 % with neither";

function drivers(rows: RawRow[]): string[] {
  const { k, n } = tagsRead(rows);
  const misses = spelled(n - k);
  return [
    `${misses[0]!.toUpperCase()}${misses.slice(1)} misses say little: of their pattern, ${shares}`,
    ...levelsOfConditions(rows).map(({ name, rows }, i) => {
      const { k, n } = tagsRead(rows);
      return `${name} ${n - k} of ${n} ${modelled[i] === "" ? "compared with this" : modelled[i]}`;
    }),
  ];
}

const uninvited = (after: RawRow[]) =>
  withoutVoids(after).filter(({ presented: invited, read }) => !invited && read);

function levelsOf(rows: RawRow[]): number[] {
  return rows.flatMap(({ read, rssiDbm }) => (read ? [rssiDbm!] : [])).sort((one, other) => one - other);
}

const antennasOf = (rows: RawRow[]) =>
  [...new Set(rows.filter(({ read }) => read).map(({ antenna }) => antenna))].sort();

function antennas(rows: RawRow[]): string[] {
  return antennasOf(rows).map((name) => {
    const levels = levelsOf(rows.filter(({ antenna }) => antenna === name));
    return `Antenna ${name} ${levels.length} not known not known ${dbm(quantile(levels, 0.5))}`;
  });
}

function groups(rows: RawRow[]): { name: string; levels: number[] }[] {
  const group = (name: string, isOf: (row: RawRow) => boolean) => ({
    name,
    levels: levelsOf(rows.filter(isOf)),
  });
  return [
    group("All", () => true),
    ...antennasOf(rows).map((name) => group(`Antenna ${name}`, ({ antenna }) => antenna === name)),
    ...["0 to 1", "1 to 2"].map((band) => group(`Speed: ${band} m/s`, ({ speed }) => bandOf(speed) === band)),
    ...["edge-on", "facing"].map((name) =>
      group(`Tag orientation: ${name}`, ({ orientation }) => orientation === name),
    ),
  ];
}

function signals(own: RawRow[], all: RawRow[]): string[] {
  const levels = levelsOf(own);
  const weakest = Math.min(...levelsOf(withoutVoids(all)));
  const low = quantile(levels, 0.05);
  return [
    `Of the ${levels.length} tags read, 95 % answered at ${dbm(low)} dBm or stronger, ${(low - weakest).toFixed(1)} dB above the weakest read in the log, ${dbm(weakest)} dBm`,
    ...groups(own).map(
      ({ name, levels }) =>
        `${name} ${levels.length} ${[0, 0.05, 0.5, 1].map((q) => dbm(quantile(levels, q))).join(" ")}`,
    ),
  ];
}

const stepDb = 3;

/** Tags by the median of their levels, in steps of 3 dB. */
function stepsOf(rows: RawRow[]): { from: number; k: number; n: number }[] {
  const found = new Map<number, { from: number; k: number; n: number }>();
  for (const tag of new Set(rows.map((row) => row.tag))) {
    const own = rows.filter((row) => row.tag === tag);
    const levels = levelsOf(own);
    if (levels.length === 0) continue;
    const from = Math.floor(quantile(levels, 0.5) / stepDb) * stepDb;
    const sum = found.get(from) ?? { from, k: 0, n: 0 };
    const { k, n } = tagsRead(own);
    found.set(from, { from, k: sum.k + k, n: sum.n + n });
  }
  return [...found.values()].sort((one, other) => one.from - other.from);
}

function steps(rows: RawRow[]): string[] {
  return stepsOf(rows).map(
    ({ from, k, n }) => `${dbm(from)} to ${dbm(from + stepDb)} ${k} of ${n} ${Math.round((100 * k) / n)} %`,
  );
}
