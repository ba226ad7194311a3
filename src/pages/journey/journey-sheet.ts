import type { JourneyResult } from "../../model/journey/journey-result.ts";
import { counted, countedInWords, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import { stableBy } from "../../model/order.ts";
import type { Finding } from "../../model/result/finding.ts";
import { byState } from "../../model/state.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import { definePage } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import { type SheetGroup, sheetLine } from "../sheet/findings.ts";
import { type Fact, partyFacts } from "../sheet/parties.ts";
import { type SheetEnd, sheetEnd } from "../sheet/sheet-end.ts";
import { placedFinding, placeName } from "./findings.ts";
import type { JourneyContext, JourneyHere } from "./journey-context.ts";
import { journeyVerdict, lostSentence, promiseSentences, rateText } from "./words.ts";

export interface JourneySheetView extends SheetEnd {
  verdict: string;
  parties: Fact[];
  sent: Fact[];
  legs: { number: string; leg: string; readPoint: string; count: string; share: string }[];
  main: SheetGroup[];
  schedule: SheetGroup[];
  promise: string[];
  remaining: string[];
  choices: string[];
}

/** As many findings as leave a usual chain on two pages. */
const mostMain = 12;

/** The document that is signed for the chain. */
export const journeySheetPage = definePage({
  template: "journey/sheet",
  navigation: "Sign-off sheet",
  pages: ({ paths, result }: JourneyContext) => [
    { path: paths.signOffSheet, title: "Sign-off sheet", subject: result },
  ],
  view: (here: JourneyHere, result: JourneyResult): JourneySheetView => {
    const { names, archive } = here;
    const facilities = [...new Set(result.legs.map(({ facilityName }) => facilityName))];
    return {
      verdict: journeyVerdict(result),
      parties: partyFacts(result, { label: "Journey", texts: [result.title, ...facilities] }),
      sent: sentFacts(here),
      legs: result.legs.map((leg, index) => ({
        number: String(index + 1),
        leg: `${names.leg(leg.id)}${leg.optional ? " (optional)" : ""}`,
        readPoint: `${leg.name}, ${leg.facilityName}`,
        count: countOf(leg.sightingRate),
        share: rateText(leg.sightingRate) || "no figure",
      })),
      ...sheetGroups(here),
      promise: promiseSentences(result, names),
      remaining: remaining(result),
      choices: ["accepted", "accepted on the conditions written beside the signatures", "not accepted"],
      ...sheetEnd(result, result.client, archive),
    };
  },
});

function sentFacts({ result, names }: JourneyContext): Fact[] {
  return result.roundResults
    .filter(({ items, voidItems }) => items + voidItems > 0)
    .map(({ id, runs, items, voidItems, voidRuns }, index) => ({
      label: index === 0 ? "Sent" : "",
      text: `${result.rounds.length > 1 ? `${names.round(id)}: ` : ""}${counted(items, "item", "items")} on ${counted(runs, "run", "runs")}${
        voidItems === 0
          ? ""
          : `; void: ${counted(voidItems, "item", "items")}${voidRuns === 0 ? "" : `, among them ${counted(voidRuns, "whole run", "whole runs")}`}`
      }.`,
    }));
}

function sheetGroups(here: JourneyHere): { main: SheetGroup[]; schedule: SheetGroup[] } {
  const { result, names } = here;
  const numbers = new Map(result.legs.map(({ id }, index) => [id, String(index + 1)]));
  const named = {
    names: { readPoint: (id: string) => placeName(here, id), criterion: names.criterion, group: () => "" },
    letterOf: (id: string) => numbers.get(id) ?? "",
  };
  const ordered = worstFirst(result.findings.map(placedFinding)).sort(
    stableBy((a, b) => byState(a.state, b.state)),
  );
  const group = (finding: (typeof ordered)[number]): SheetGroup => ({
    heading: "",
    lines: [sheetLine(named, finding, runNote(finding))],
  });
  return { main: ordered.slice(0, mostMain).map(group), schedule: ordered.slice(mostMain).map(group) };
}

/** `6 runs, 120 tags`. */
function runNote({ passes, tags }: Finding): string {
  const runs = counted(passes, "run", "runs");
  return tags === null ? runs : `${runs}, ${counted(tags, "tag", "tags")}`;
}

/** What the signatories should know besides the findings. */
function remaining(result: JourneyResult): string[] {
  const wrong = new Set(result.wrongPlaces.map(({ item }) => item)).size;
  const late = result.legs.reduce((sum, leg) => sum + leg.late, 0);
  return nonEmpty([
    lostSentence(result),
    late === 0
      ? ""
      : `${sentenceStart(countedInWords(late, "sighting came too late and counts", "sightings came too late and count"))} as not seen.`,
    wrong === 0
      ? ""
      : `${sentenceStart(countedInWords(wrong, "item was", "items were"))} seen in a wrong place.`,
  ]);
}
