import { changedByDay } from "../../analysis/comparison/simulated.ts";
import { statedNumber, thinSpace } from "../../model/number-words.ts";
import { definePage, type FacilityContext, type Link } from "../parts/page.ts";
import { leadingPair, type RoundPair, roundPairs } from "../parts/round-pairs.ts";
import { changesSentence } from "../words/comparisons.ts";
import { type ChangeFigure, changeFigure } from "./change-figure.ts";
import { pairTables } from "./change-tables.ts";
import { namedChanges, type PairLink, pairLinks, pairTitle, rankedChanges } from "./read-point-changes.ts";
import { type ReadPointSection, readPointSection } from "./read-point-section.ts";

export interface ChangesView {
  verdict: string;
  before: string;
  after: string;
  columns: RoundPair;
  changed: { title: string; text: string }[];
  figure: ChangeFigure | null;
  readPoints: ReadPointSection[];
  downloads: Link[];
  tagDownloads: Link[];
  others: PairLink[];
  roundsHref: string;
  howHref: string;
  otherDays: string;
}

/** A page for each compared pair of rounds: the change of every read point, none averaged with another. */
export const changesPage = definePage({
  template: "changes",
  navigation: "Before and after",
  pages: (facility) => {
    const leading = leadingPair(facility.result);
    return roundPairs(facility.result).map((pair) => {
      const { comparisons, tags } = pairTables(facility, pair);
      return {
        path: facility.paths.changes(pair),
        title: pairTitle(facility.names, pair),
        subject: { pair, comparisons, tags },
        tables: tags === null ? [comparisons] : [comparisons, tags],
        isEntry: pair.before === leading?.before && pair.after === leading.after,
      };
    });
  },
  view: (here, { pair, comparisons, tags }): ChangesView => {
    const changes = rankedChanges(pair, here.result);
    return {
      verdict: changesSentence(namedChanges(changes)),
      before: here.names.roundAndDate(pair.before),
      after: here.names.roundAndDate(pair.after),
      columns: { before: here.names.round(pair.before), after: here.names.round(pair.after) },
      changed: changedBetween(here, pair),
      figure: changes.length === 0 ? null : changeFigure(here, pair, changes),
      readPoints: changes.map((change) => readPointSection(change, here)),
      downloads: [here.tableLink(comparisons.name)],
      tagDownloads: tags === null ? [] : [here.tableLink(tags.name)],
      others: pairLinks(here, pair),
      roundsHref: here.href(here.paths.rounds),
      howHref: `${here.href(here.paths.method)}#before-and-after`,
      otherDays: otherDays(),
    };
  },
});

/** What two days do to a comparison though nothing was changed. */
function otherDays(): string {
  const walk = { trueRate: 0.97, passes: 20, tags: 40 };
  const [once, often] = [1, 4].map((sessions) => changedByDay({ ...walk, sessions }));
  const rate = `${statedNumber(walk.trueRate * 100)}${thinSpace}%`;
  return `Two days differ though nothing was retuned, and p knows nothing of days. In simulations of ${walk.passes} passes of ${walk.tags} tags at ${rate}, days that differ by half a unit on the logit scale make ${once} of 100 equal rounds look changed if each round was walked in one session, and ${often} if it was walked in four. Walk both rounds in more than one session.`;
}

/** What was changed before each round after the earlier one, up to the later one. */
function changedBetween(
  { result: { rounds }, names }: FacilityContext,
  { before, after }: RoundPair,
): ChangesView["changed"] {
  const placeOf = (id: string) => rounds.findIndex((round) => round.id === id);
  return rounds.slice(placeOf(before) + 1, placeOf(after) + 1).map(({ id, changes }) => ({
    title: `Before ${names.roundAndDate(id)}`,
    text: changes ?? "No change is stated.",
  }));
}
