import { ofPasses, ofPresentations } from "./independent-interval.ts";
import * as common from "./pages-in-common.ts";
import { type Claim, flanked, longDate, spelled } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import * as recount from "./recount.ts";
import type { Shed } from "./shed.ts";

interface Row {
  title: string;
  count: recount.Count;
  figures: string;
}

/** What the page of rounds says of the rounds side by side, with the figures of the recount. */
export function roundsStatements(shed: Shed): string[] {
  const rounds = shed.facts.rounds;
  const perRound = [shed.before, shed.after].map(measuresOf);
  const [, last] = rounds;
  return [
    ...common.onEveryPage(shed),
    `There are ${spelled(rounds.length)} rounds`,
    ...rounds.map(({ title, date }) => `${title} … ${longDate(date)}`),
    ...perRound[1]!.map(
      ({ title, count }) =>
        `${title} … est among the last rounds: Door, ${last!.title}: ${count.k} of ${count.n}`,
    ),
    ...perRound[0]!.flatMap((before, index) =>
      pictureOf(before, perRound[1]![index]!, rounds[0]!.title, last!.title),
    ),
    tableRow(shed.before, rounds[0]!.title),
    tableRow(shed.after, rounds[1]!.title),
  ];
}

function measuresOf(all: RawRow[]): Row[] {
  const rows = recount.withoutVoids(all);
  const row = (title: string, count: recount.Count, of: typeof ofPasses, claim: Claim) => ({
    title,
    count,
    figures: count.n === 0 ? "" : flanked(of(count), claim),
  });
  return [
    row("Tags read", recount.tagsRead(rows), ofPresentations, "at least"),
    row("Complete passes", recount.completePasses(rows), ofPasses, "at least"),
    row("Passes with a stray", recount.strayPasses(rows), ofPasses, "at most"),
    row("Bystanders read", recount.bystandersRead(rows), ofPresentations, "at most"),
  ];
}

/** Both rounds follow each other in a picture, before the labels of its axis or after them. */
function pictureOf(before: Row, after: Row, first: string, last: string): string[] {
  const inPicture = ({ count, figures }: Row) => (count.n === 0 ? "" : `${count.k} of ${count.n} ${figures}`);
  return [`Door ${first} … ${inPicture(before)} … ${last} … ${inPicture(after)} %`];
}

function tableRow(rows: RawRow[], title: string): string {
  const voids = recount.voidPasses(rows).length;
  const cells = measuresOf(rows).map(({ count, figures }) =>
    count.n === 0 ? "no bystander placed" : `${figures} % ${count.k} of ${count.n}`,
  );
  const passes = recount.passesOf(recount.withoutVoids(rows)).length;
  return `${title} … ${passes} passes${voids === 0 ? "" : `, ${voids} void`} … ${cells.join(" … ")}`;
}
