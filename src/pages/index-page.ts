import { reportName } from "../model/facility.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import { countedInWords, countWord, joined, sentenceStart } from "../model/number-words.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../model/order.ts";
import type { Result } from "../model/result/result.ts";
import type { State } from "../model/state.ts";
import { byState, statesWorstFirst } from "../model/state.ts";
import { journeyPaths } from "./journey/journey-context.ts";
import { journeyVerdict } from "./journey/words.ts";
import { namesOf } from "./parts/names.ts";
import type { Page } from "./parts/page.ts";
import { facilityPaths } from "./parts/paths.ts";
import { type StateMark, stateMark } from "./parts/state-mark.ts";
import { dateText } from "./words/dates.ts";
import { stateWord, verdictSentence } from "./words/verdicts.ts";

/** What the page of all facilities needs of whatever is accepted. */
interface Entry {
  id: string;
  name: string;
  client: string;
  href: string;
  state: State;
  verdict: string;
  report: string;
  issued: string;
}

/** A facility. */
export interface IndexEntry extends Entry {
  round: string;
}

export function indexEntry(result: Result): IndexEntry {
  return {
    id: result.facility.id,
    name: result.facility.name,
    client: result.facility.client ?? "",
    href: facilityPaths(result).overview,
    state: result.state,
    verdict: verdictSentence(result),
    ...reportTexts(result),
    round: namesOf(result).round(result.signOffRound),
  };
}

/** A journey over them. */
export interface JourneyEntry extends Entry {
  /** The read points on the way. */
  way: string;
}

export function journeyEntry(result: JourneyResult): JourneyEntry {
  const { legs } = result;
  const [first, last] = [legs[0], legs.at(-1)];
  return {
    id: result.id,
    name: result.title,
    client: result.client ?? "",
    href: journeyPaths(result).overview,
    state: result.state,
    verdict: journeyVerdict(result),
    ...reportTexts(result),
    way:
      first === undefined || last === undefined
        ? "no leg"
        : `${countedInWords(legs.length, "leg", "legs")}: ${first.name}, ${first.facilityName}, to ${last.name}, ${last.facilityName}`,
  };
}

function reportTexts({ report }: Pick<Result, "report">): Pick<Entry, "report" | "issued"> {
  if (report === null) return { report: "none", issued: "none" };
  const name = reportName(report).replace("revision ", "revision\u00a0");
  return { report: name, issued: dateText(report.issued) };
}

export interface IndexView {
  lead: string;
  rows: (IndexEntry & { mark: StateMark })[];
  /** Journeys over the facilities, worst first. */
  journeys: (JourneyEntry & { mark: StateMark })[];
}

export const indexTemplate = "index";

/** All facilities, and the journeys over them: worst first. */
export function indexPage(entries: IndexEntry[], journeys: JourneyEntry[] = []): Page<IndexView> {
  return {
    template: indexTemplate,
    path: "index.html",
    view: {
      title: entries.length === 0 && journeys.length > 0 ? "Journeys" : "All facilities",
      root: "",
      about: "facility",
      facility: null,
      navigation: [],
      readPointNavigation: [],
      inputsHref: "",
      methodHref: "",
      evidenceMark: "",
      markStyleHref: "",
      lead: leadSentence(entries, journeys.length),
      rows: [...entries].sort(worstFirst).map((entry) => ({ ...entry, mark: stateMark(entry.state) })),
      journeys: [...journeys].sort(worstFirst).map((entry) => ({ ...entry, mark: stateMark(entry.state) })),
    },
  };
}

const worstFirst = stableBy<Entry>(
  (a, b) => byState(a.state, b.state),
  (a, b) => byNaturalOrder(a.name, b.name),
  (a, b) => byCodePoint(a.id, b.id),
);

/** `does not meet its criteria`, `are undecided`. */
function standing(state: State, count: number): string {
  const one = count === 1;
  if (state === "not-met") return one ? "does not meet its criteria" : "do not meet their criteria";
  if (state === "met") return one ? "meets its criteria" : "meet their criteria";
  return `${one ? "is" : "are"} ${stateWord(state)}`;
}

function leadSentence(entries: IndexEntry[], journeys: number): string {
  if (entries.length === 0 && journeys > 0)
    return `${sentenceStart(countedInWords(journeys, "journey", "journeys"))}. The pages of the facilities are not in this site.`;
  if (entries.length === 0) return "No facility was found.";
  const count = (state: State) => entries.filter((entry) => entry.state === state).length;
  const states = statesWorstFirst
    .filter((state) => count(state) > 0)
    .map((state) => `${countWord(count(state))} ${standing(state, count(state))}`);
  const whole = sentenceStart(countedInWords(entries.length, "facility", "facilities"));
  return `${whole}: ${joined(states)}. A facility is as bad as its worst read point.`;
}
