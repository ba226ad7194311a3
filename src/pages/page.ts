import type { Result } from "../model/result.ts";
import type { State } from "../model/state.ts";
import { leadingPair } from "./changes/round-pairs.ts";
import { facilityPaths, planLetter, relativeLink, rootOf } from "./paths.ts";
import { dateOrWords } from "./words/dates.ts";
import { stateWord } from "./words/verdicts.ts";

export type TemplateName =
  | "index"
  | "overview"
  | "read-point"
  | "rounds"
  | "changes"
  | "passes"
  | "inputs"
  | "method"
  | "sign-off-sheet"
  | "plan"
  | "walk-sheet"
  | "aisle";

/** One page of the site: which template, where to, and everything it says, finished. */
export interface Page {
  template: TemplateName;
  /** From the site's root, with `/`. */
  path: string;
  view: PageView;
}

/** A file of the site that is not a page. */
export interface SiteFile {
  path: string;
  text: string;
}

export interface Link {
  label: string;
  /** Relative, ending in a file name. */
  href: string;
}

interface NavigationLink extends Link {
  current: boolean;
}

/** What stands at the head of every page of a facility. */
interface FacilityHead {
  name: string;
  client: string;
  /** `SMP-001, revision B`. */
  report: string;
  issued: string;
  round: string;
  state: State;
  stateWord: string;
}

/** What the layout needs of every page. */
interface PageHead {
  title: string;
  path: string;
  /** From the page to the site's root: empty, or `../` repeated. */
  root: string;
  facility: FacilityHead | null;
  navigation: NavigationLink[];
  readPointNavigation: (NavigationLink & { letter: string })[];
  /** Relative; empty on the page of all facilities. */
  inputsHref: string;
  methodHref: string;
}

interface PageView extends PageHead {
  [field: string]: unknown;
}

/** The head data of a facility's pages: whose, which report, which round. */
function facilityHead(result: Result): FacilityHead {
  const { report } = result;
  const round = result.rounds.find((entry) => entry.id === result.signOffRound);
  const title = round?.title ?? result.signOffRound;
  return {
    name: result.facility.name,
    client: result.facility.client ?? "",
    report: report === null ? "no report number" : `${report.number}, revision ${report.revision}`,
    issued: report === null ? "no issue date" : dateOrWords(report.issued, "no issue date"),
    round: round?.date ? `${title}, ${dateOrWords(round.date, "")}` : title,
    state: result.state,
    stateWord: stateWord(result.state),
  };
}

/** A page of one facility, its head filled in. */
export function facilityPage(
  result: Result,
  template: TemplateName,
  path: string,
  title: string,
  fields: Record<string, unknown>,
): Page {
  const paths = facilityPaths(result);
  const leading = leadingPair(result);
  const link = (label: string, to: string): NavigationLink => ({
    label,
    href: relativeLink(path, to),
    current: to === path,
  });
  const head: PageHead = {
    title,
    path,
    root: rootOf(path),
    facility: facilityHead(result),
    navigation: [
      link("Overview", paths.overview),
      link("Rounds side by side", paths.rounds),
      ...(leading === null ? [] : [link("Before and after", paths.changes(leading))]),
      link("Pass by pass", paths.passes),
      ...(result.plan === null ? [] : [link("How much to walk", paths.plan)]),
      link("Inputs", paths.inputs),
      link("Method", paths.method),
      link("Sign-off sheet", paths.signOffSheet),
    ],
    readPointNavigation: result.readPoints.map((point, index) => ({
      ...link(point.name, paths.readPoints.get(point.id) as string),
      letter: planLetter(index),
    })),
    inputsHref: relativeLink(path, paths.inputs),
    methodHref: relativeLink(path, paths.method),
  };
  return { template, path, view: { ...fields, ...head } };
}
