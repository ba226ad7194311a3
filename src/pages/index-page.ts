import { countedInWords, countWord, joined, sentenceStart } from "../model/number-words.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../model/order.ts";
import type { Result } from "../model/result.ts";
import type { State } from "../model/state.ts";
import { byState, statesWorstFirst } from "../model/state.ts";
import { namesOf } from "./parts/names.ts";
import type { Page } from "./parts/page.ts";
import { facilityPaths } from "./parts/paths.ts";
import { type StateMark, stateMark } from "./parts/state-mark.ts";
import { dateText } from "./words/dates.ts";
import { stateWord, verdictSentence } from "./words/verdicts.ts";

/** What the page of all facilities needs of one of them. */
export interface IndexEntry {
  id: string;
  name: string;
  client: string;
  href: string;
  state: State;
  verdict: string;
  report: string;
  issued: string;
  round: string;
}

export function indexEntry(result: Result): IndexEntry {
  const { report } = result;
  return {
    id: result.facility.id,
    name: result.facility.name,
    client: result.facility.client ?? "",
    href: facilityPaths(result).overview,
    state: result.state,
    verdict: verdictSentence(result),
    report: report === null ? "none" : `${report.number}, revision ${report.revision}`,
    issued: report === null ? "none" : dateText(report.issued),
    round: namesOf(result).round(result.signOffRound),
  };
}

export interface IndexView {
  lead: string;
  rows: (IndexEntry & { mark: StateMark })[];
}

export const indexTemplate = "index";

/** All facilities, worst first. */
export function indexPage(entries: IndexEntry[]): Page<IndexView> {
  const sorted = [...entries].sort(
    stableBy(
      (a: IndexEntry, b: IndexEntry) => byState(a.state, b.state),
      (a: IndexEntry, b: IndexEntry) => byNaturalOrder(a.name, b.name),
      (a: IndexEntry, b: IndexEntry) => byCodePoint(a.id, b.id),
    ),
  );
  return {
    template: indexTemplate,
    path: "index.html",
    view: {
      title: "All facilities",
      root: "",
      about: "facility",
      facility: null,
      navigation: [],
      readPointNavigation: [],
      inputsHref: "",
      methodHref: "",
      evidenceMark: "",
      markStyleHref: "",
      lead: leadSentence(entries),
      rows: sorted.map((entry) => ({ ...entry, mark: stateMark(entry.state) })),
    },
  };
}

/** `does not meet its criteria`, `are undecided`. */
function standing(state: State, count: number): string {
  const one = count === 1;
  if (state === "not-met") return one ? "does not meet its criteria" : "do not meet their criteria";
  if (state === "met") return one ? "meets its criteria" : "meet their criteria";
  return `${one ? "is" : "are"} ${stateWord(state)}`;
}

function leadSentence(entries: IndexEntry[]): string {
  if (entries.length === 0) return "No facility was found.";
  const count = (state: State) => entries.filter((entry) => entry.state === state).length;
  const states = statesWorstFirst
    .filter((state) => count(state) > 0)
    .map((state) => `${countWord(count(state))} ${standing(state, count(state))}`);
  const whole = sentenceStart(countedInWords(entries.length, "facility", "facilities"));
  return `${whole}: ${joined(states)}. A facility is as bad as its worst read point.`;
}
