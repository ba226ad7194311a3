import { sentence } from "./changes-statements.ts";
import { differenceOf } from "./independent-difference.ts";
import { ofPasses, ofPresentations } from "./independent-interval.ts";
import type { JudgedFinding } from "./judged-findings.ts";
import * as common from "./pages-in-common.ts";
import { figures, isSignal, limit, rateInWords, settling, titleFirst } from "./pages-in-common.ts";
import { bandOf, passRows } from "./pass-rows.ts";
import { dbm, longDate, spelled, spoken } from "./printed.ts";
import {
  bystandersRead,
  completePasses,
  missedTags,
  passesOf,
  presented,
  strayPasses,
  tagsRead,
  voidPasses,
  withoutVoids,
} from "./recount.ts";
import type { Shed } from "./shed.ts";
import { missesSentence } from "./why-statements.ts";

/** What the page of the read point says of findings, passes, tags and rounds, with the figures of the recount. */
export function readPointStatements(shed: Shed): string[] {
  const { facts, findings, before } = shed;
  const [first, judged] = facts.rounds;
  const earlier = tagsRead(before);
  return [
    ...common.onEveryPage(shed),
    missesSentence(shed),
    ...common.picturesOfFindings(shed, (one) => `${settling(one)} … ${withVoids(one)}`),
    ...findings.map(findingRow),
    `All ${spelled(findings.length)} findings`,
    `Round judged ${judged!.title}, ${longDate(judged!.date)}`,
    `Since ${first!.title}: no change shown. ${sentence(differenceOf(withoutVoids(before), withoutVoids(shed.after)))}`,
    ...missed(shed),
    ...passes(shed),
    `${first!.title}: ${passesOf(before).length} passes. ${earlier.k} of ${earlier.n} tags read: ${spoken(ofPresentations(earlier), "at least")}`,
    ...facts.rounds.map(({ title, date }) => `${title} ${longDate(date)}`),
  ];
}

function findingRow(finding: JudgedFinding): string {
  const { count, passes, tags } = finding;
  return [
    `${titleFirst(finding)} … ${passes} passes ${count.k} of ${count.n} ${tags} different tag … ${figures(finding)} … ${limit(finding)}`,
    isSignal(finding) ? signalSentence(finding) : "",
    settling(finding),
    withVoids(finding),
  ].join(" … ");
}

function signalSentence(finding: JudgedFinding): string {
  const { count, interval, quantile } = finding;
  return (
    `${count.k} of ${count.n} tags read: the weakest ${quantile! * 100} % of presentations lie at or below ` +
    `${dbm(interval.value)} dBm (from ${dbm(interval.lower, 1, "a missed tag")} to ${dbm(interval.upper)}); ${limit(finding)} required.`
  );
}

function withVoids(finding: JudgedFinding): string {
  if (finding.withVoids === null) return "";
  const { voids, count, interval } = finding.withVoids;
  if (voids !== 1) throw new Error("the page says how many void passes there are");
  const lead = `Including the void pass: ${count.k} of ${count.n}`;
  return isSignal(finding)
    ? `${lead} … ${dbm(interval.value)} dBm (from ${dbm(interval.lower, 1, "a missed tag")} to ${dbm(interval.upper)})`
    : `${lead} … ${spoken(interval, finding.claim)}`;
}

function missed({ after }: Shed): string[] {
  const tags = missedTags(withoutVoids(after));
  const rows = tags.map(({ tag, missed, of, passes }) => `${tag} ${missed} of ${of} ${passes.join(", ")}`);
  const presentations = tags.reduce((sum, { missed }) => sum + missed, 0);
  const again = tags.filter(({ missed }) => missed > 1).length;
  return [
    `Missed tags ${presentations} presentations were missed, on ${tags.length} tags, ${again} of them more than once`,
    `In passes ${rows.join(" ")} door-missed-tags.csv`,
  ];
}

function passes({ after, findings }: Shed): string[] {
  const valid = withoutVoids(after);
  const complete = completePasses(valid);
  const strays = strayPasses(valid);
  const heard = passesOf(valid.filter(({ presented, read }) => !presented && read));
  const lane = bystandersRead(valid);
  const voids = voidPasses(after);
  const half = findings[0]!;
  return [
    `All tags were read in ${complete.k} of ${complete.n} valid passes`,
    ...chartPoints(shedRows(valid)),
    `Passes of the round judged ${passesOf(valid).length} valid passes. ${complete.k} of ${complete.n} passes complete: ${spoken(ofPasses(complete), "at least")}. ${passesOf(after).length} passes, one by one`,
    ...passRows(after, "Passes in the order walked"),
    `Strays and bystanders ${strays.k} of ${strays.n} passes with a stray: ${spoken(ofPasses(strays), "at most")}. ` +
      `${lane.k} of ${lane.n} bystanders read: ${spoken(ofPresentations(lane, 0.02), "at most")}. ` +
      heard.map((pass) => `${pass}: ${heardIn(valid, pass)}`).join(" "),
    `Without the void pass: ${rateInWords(half)}. Including the void pass: ${withVoids(half).split(": ")[1]}. ` +
      voids.map((pass) => `${pass}: `).join(" "),
  ];
}

const heardIn = (rows: Shed["after"], pass: string) =>
  rows
    .filter((row) => row.pass === pass && !row.presented && row.read)
    .map(({ tag }) => tag)
    .join(" ");

const shedRows = (rows: Shed["after"]) =>
  passesOf(presented(rows)).map((pass) => presented(rows).filter((row) => row.pass === pass));

/** The data of the panel to explore passes, which a script draws from figures in the page. */
function chartPoints(byPass: Shed["after"][]): string[] {
  const points = byPass.map((rows) => {
    const { k, n } = tagsRead(rows);
    const [{ pass, startedAt }] = rows as [Shed["after"][number]];
    const missed = rows.filter(({ read }) => !read).map(({ tag }) => tag);
    const said = missed.length === 0 ? "" : `Missed: ${missed.sort().join(", ")}`;
    return `"text":"${pass}, ${startedAt.split(" ")[1]}: ${k} of ${n} tags read","missed":"${said}","href":"#pass-door-after-${pass}"`;
  });
  const speeds = byPass.map(([row]) => bandOf(row!.speed));
  const bands = [...new Set(speeds)].sort();
  const shares = byPass.map((rows) => (100 * tagsRead(rows).k) / rows.length);
  const strongest = byPass.map((rows) => Math.max(...rows.flatMap(({ rssiDbm }) => rssiDbm ?? [])));
  const antennas = byPass.map((rows) =>
    [...new Set(rows.filter(({ read, antenna }) => read && antenna !== "").map(({ antenna }) => antenna))]
      .sort()
      .join(" and "),
  );
  const namesOfAntennas = [...new Set(antennas)].sort();
  const valuesOf = (values: number[]) => `"values":[${values.join(",")}]`;
  return [
    `${points.join(" … ")} … "order" … ${valuesOf(byPass.map((_, i) => i + 1))} … "share" … ${valuesOf(shares)}`,
    `"Strongest RSSI, dBm","names":null,${valuesOf(strongest)}`,
    `"Antenna","names":["${namesOfAntennas.join('","')}"],${valuesOf(antennas.map((one) => namesOfAntennas.indexOf(one)))}`,
    `"Speed","names":["${bands.join(' m/s","')} m/s"],${valuesOf(speeds.map((speed) => bands.indexOf(speed)))}`,
    `"edge-on and facing"],${valuesOf(byPass.map(() => 0))}`,
  ];
}
