import { changedByDay } from "../../analysis/comparison/simulated.ts";
import { statedPercent } from "../../model/number-words.ts";
import type { CsvTable } from "../parts/csv.ts";
import type { FacilityContext, Link, PageContext } from "../parts/page.ts";
import type { RoundPair } from "../parts/round-pairs.ts";
import { changesSentence } from "../words/comparisons.ts";
import { type ChangeFigure, changeFigure } from "./change-figure.ts";
import { pairTables } from "./change-tables.ts";
import { namedChanges, pairAnchor, pairTitle, rankedChanges } from "./read-point-changes.ts";
import { type ReadPointSection, readPointSection } from "./read-point-section.ts";

/** A compared pair of rounds: the change of every read point, none averaged with another. */
export interface PairView {
  anchor: string;
  title: string;
  verdict: string;
  before: string;
  after: string;
  columns: RoundPair;
  changed: { title: string; text: string }[];
  figure: ChangeFigure | null;
  readPoints: ReadPointSection[];
  downloads: Link[];
  tagDownloads: Link[];
}

export function pairView(here: PageContext, pair: RoundPair): PairView {
  const { comparisons, tags } = pairTables(here, pair);
  const changes = rankedChanges(pair, here.result);
  return {
    anchor: pairAnchor(here, pair),
    title: pairTitle(here.names, pair),
    verdict: changesSentence(namedChanges(changes)),
    before: here.names.roundAndDate(pair.before),
    after: here.names.roundAndDate(pair.after),
    columns: { before: here.names.round(pair.before), after: here.names.round(pair.after) },
    changed: changedBetween(here, pair),
    figure: changes.length === 0 ? null : changeFigure(here, pair, changes),
    readPoints: changes.map((change) => readPointSection(change, here, pair)),
    downloads: [here.tableLink(comparisons.name)],
    tagDownloads: tags === null ? [] : [here.tableLink(tags.name)],
  };
}

/** The tables of a pair. */
export function pairFiles(facility: FacilityContext, pair: RoundPair): CsvTable[] {
  const { comparisons, tags } = pairTables(facility, pair);
  return tags === null ? [comparisons] : [comparisons, tags];
}

/** What two days do to a comparison though nothing was changed. */
export function otherDays(): string {
  const walk = { trueRate: 0.97, passes: 20, tags: 40 };
  const [once, often] = [1, 4].map((sessions) => changedByDay({ ...walk, sessions }));
  const rate = statedPercent(walk.trueRate);
  return `Two days differ though nothing was retuned, and p knows nothing of days. In simulations of ${walk.passes} passes of ${walk.tags} tags at ${rate}, days that differ by half a unit on the logit scale make ${once} of 100 equal rounds look changed if each round was walked in one session, and ${often} if it was walked in four. Walk both rounds in more than one session.`;
}

/** What was changed before each round after the earlier one, up to the later one. */
function changedBetween(
  { result: { rounds }, names }: FacilityContext,
  { before, after }: RoundPair,
): PairView["changed"] {
  const placeOf = (id: string) => rounds.findIndex((round) => round.id === id);
  return rounds.slice(placeOf(before) + 1, placeOf(after) + 1).map(({ id, changes }) => ({
    title: `Before ${names.roundAndDate(id)}`,
    text: changes ?? "No change is stated.",
  }));
}
