import { counted, countText } from "../../model/number-words.ts";
import { problem } from "./card/problem.ts";
import { listing, quoted } from "./card/wording.ts";

/* What EPCIS documents of a journey say. */

export const epcisUnreadable = problem(
  {
    code: "epcis-unreadable",
    severity: "error",
    means: "An EPCIS document of a journey is not JSON, or holds no events.",
    advice: "Export it again as an EPCIS 2.0 document in JSON.",
  },
  {
    broken: (found: string) => ({
      found,
      expected: "an EPCIS 2.0 document in JSON, a list of its events, or one event",
    }),
    empty: () => ({
      found: "no events",
      expected: "events in epcisBody.eventList or epcisBody.queryResults.resultsBody.eventList",
      advice: "Export it again, or take the file out of the journey's folder where it is no EPCIS document.",
    }),
  },
);

export const epcisEventRefused = problem(
  {
    code: "epcis-event-refused",
    severity: "error",
    means: "An event of an EPCIS document cannot be read.",
    advice: "Correct the event where it was written, and export the document again.",
  },
  {
    noEvent: (found: string) => ({
      found: quoted(found),
      expected: "an event with a type",
      advice:
        "Correct the event where it was written, and export the document again. Take the file out of the journey's folder if it is no EPCIS document.",
    }),
    member: ({ name, found, expected }: { name: string; found: string; expected: string }) => ({
      found: found === "" ? `no ${name}` : `${name}: ${quoted(found)}`,
      expected,
    }),
  },
);

export const epcisReadPointUnknown = problem(
  {
    code: "epcis-read-point-unknown",
    severity: "error",
    means: "An EPCIS document heard tags of the journey at a read point that the table epcis does not name.",
    advice: "Name it in the journey's YAML, under epcis.",
  },
  {
    with: ({ uri, sightings }: { uri: string; sightings: number }) => ({
      found: `${quoted(uri)}, where tags of the journey were heard ${sightings === 1 ? "once" : `${countText(sightings)} times`}`,
      expected: "a read point that the table epcis in the journey's YAML names",
      advice: `Add it under epcis: "${uri}": { facility: ..., read_point: ... }, or "${uri}": elsewhere where it is no read point of these facilities.`,
    }),
  },
);

export const epcisCodeAmbiguous = problem(
  {
    code: "epcis-code-ambiguous",
    severity: "error",
    means: "An EPCIS document names a thing that two tags of the journey carry.",
    advice: "Leave one of the two tags out of runs.csv: an EPCIS document cannot tell them apart.",
  },
  {
    with: ({ epc, codes }: { epc: string; codes: readonly string[] }) => ({
      found: `${quoted(epc)}, which ${listing(codes)} both name`,
      expected: "one tag of the journey for each EPC",
    }),
  },
);

export const epcisCodesUnknown = problem(
  {
    code: "epcis-codes-unknown",
    severity: "warning",
    means: "No EPC of an EPCIS document is that of a tag of the journey.",
    advice:
      "Check whether runs.csv writes the codes of the same tags, and whether the document is of these days.",
  },
  {
    with: ({ epcs, first }: { epcs: number; first: string }) => ({
      found: `${counted(epcs, "EPC", "EPCs")}, the first ${quoted(first)}, none of a tag of runs.csv`,
      expected: "sightings of the tags and carriers of runs.csv",
    }),
  },
);

export const epcisDeclaredInError = problem(
  {
    code: "epcis-declared-in-error",
    severity: "warning",
    means: "Events of an EPCIS document were declared in error, so they are no sightings.",
    advice:
      "Nothing to do where the declarations are right; the corrected events count where the document has them.",
  },
  {
    with: (events: number) => ({
      found: `${counted(events, "event", "events")} declared in error`,
      expected: "events that nobody withdrew",
    }),
  },
);

export const epcisEventsUnused = problem(
  {
    code: "epcis-events-unused",
    severity: "warning",
    means: "Events of an EPCIS document, or parts of them, say nothing of where a tag was heard.",
    advice: "Nothing to do where that is what was meant.",
  },
  {
    otherTypes: ({ events, types }: { events: number; types: readonly string[] }) => ({
      found: `${counted(events, "event", "events")} of other types: ${listing(types)}`,
      expected: "ObjectEvent and AggregationEvent, which say where tags were observed",
    }),
    withoutReadPoint: (events: number) => ({
      found: `${counted(events, "event", "events")} without a readPoint`,
      expected: "a readPoint, which says where the tags were heard",
    }),
    deletions: (events: number) => ({
      found: `${counted(events, "ObjectEvent", "ObjectEvents")} with action DELETE`,
      expected: "action OBSERVE or ADD: the end of a code can be recorded where no tag is heard",
    }),
    quantities: (entries: number) => ({
      found: `${counted(entries, "quantity", "quantities")} of classes of things`,
      expected: "EPCs: a quantity does not say which tags were heard",
    }),
  },
);
