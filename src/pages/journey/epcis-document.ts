import type { ToldSighting } from "../../analysis/journey/told-sightings.ts";
import { documentUri, readPointUri } from "../../codes/thing-names.ts";
import { reportName } from "../../model/facility.ts";
import { secondText, ZoneClock } from "../../model/instants.ts";
import { byCodePoint } from "../../model/order.ts";

/** What a document says of where it comes from. */
interface Provenance {
  tool: { name: string; version: string };
  journey: { id: string; title: string };
  report: { number: string; revision: string };
  /** The day of issue, YYYY-MM-DD: the document is as old as the report, whenever it is written. */
  issued: string;
  inputs: readonly { path: string; sha256: string }[];
}

interface EpcisDocument {
  provenance: Provenance;
  /** In the order of `toldSightings`. */
  sightings: readonly ToldSighting[];
  /** The URI that the journey's table gives a read point; null where it gives none. */
  uriOf(facility: string, readPoint: string): string | null;
  /** The IANA name of a facility's time zone; null where none is stated. */
  timeZoneOf(facility: string): string | null;
}

/**
 * The sightings as an EPCIS 2.0 document in JSON, in pieces. One ObjectEvent a moment, read point and time of recording; all of them are
 * observations. What the standard has no member for stands under a name of our own.
 *
 * Source: EPCIS 2.0, JSON binding (from memory; checked by hand against the JSON schema of the standard's public repository, whose
 * text is of its time: the ratified one could not be reached).
 */
export function* epcisDocument({
  provenance,
  sightings,
  uriOf,
  timeZoneOf,
}: EpcisDocument): Generator<string> {
  const { tool, journey, report, issued, inputs } = provenance;
  const head = {
    "@context": [standardContext, { [own]: ownContext }],
    type: "EPCISDocument",
    schemaVersion: "2.0",
    creationDate: `${issued}T00:00:00Z`,
    [`${own}:provenance`]: {
      [`${own}:tool`]: `${tool.name} ${tool.version}`,
      [`${own}:journey`]: journey.id,
      [`${own}:title`]: journey.title,
      [`${own}:report`]: reportName(report),
      [`${own}:inputs`]: inputs.map(({ path, sha256 }) => ({
        [`${own}:path`]: path,
        [`${own}:sha256`]: sha256,
      })),
    },
  };
  yield `${JSON.stringify(head, null, 2).replace(/\n\}$/, "")},\n  "epcisBody": {\n    "eventList": [`;
  const clockOf = clocksOf(timeZoneOf);
  let before = "\n";
  for (const alike of moments(sightings)) {
    const { epochUs, facility, readPoint, knownAtUs, runs, input } = alike[0]!;
    const { offsetMs } = clockOf(facility).stretchAt(Math.floor(epochUs / 1000));
    const event = {
      type: "ObjectEvent",
      eventTime: writtenTime(epochUs, offsetMs),
      eventTimeZoneOffset: offsetText(offsetMs),
      ...(knownAtUs === null ? {} : { recordTime: writtenTime(knownAtUs, offsetMs) }),
      action: "OBSERVE",
      epcList: [...new Set(alike.map(({ tag }) => documentUri(tag)))].sort(byCodePoint),
      readPoint: { id: uriOf(facility, readPoint) ?? readPointUri(facility, readPoint) },
      [`${own}:runs`]: runs,
      [`${own}:input`]: input,
    };
    yield `${before}      ${JSON.stringify(event)}`;
    before = ",\n";
  }
  yield `${before === "\n" ? "" : "\n    "}]\n  }\n}\n`;
}

/** From memory. */
const standardContext = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld";
const own = "proofwalk";
const ownContext = "https://proofwalk.invalid/epcis/";

/** Sightings that one event can tell of. */
function* moments(sightings: readonly ToldSighting[]): Generator<ToldSighting[]> {
  let alike: ToldSighting[] = [];
  let last = "";
  for (const sighting of sightings) {
    const { tag: _, ...rest } = sighting;
    const key = JSON.stringify(rest);
    if (key !== last && alike.length > 0) {
      yield alike;
      alike = [];
    }
    alike.push(sighting);
    last = key;
  }
  if (alike.length > 0) yield alike;
}

/** The clock of a facility; UTC's where it states no time zone. */
function clocksOf(zoneOf: (facility: string) => string | null): (facility: string) => ZoneClock {
  const known = new Map<string, ZoneClock>();
  return (facility) => {
    const clock = known.get(facility) ?? new ZoneClock(zoneOf(facility) ?? "UTC");
    known.set(facility, clock);
    return clock;
  };
}

/** `+01:00`. Offsets with seconds are of the nineteenth century, and no EPCIS offset may have them. */
function offsetText(offsetMs: number): string {
  const minutes = Math.floor(Math.abs(offsetMs) / 60_000);
  const two = (number: number) => String(number).padStart(2, "0");
  return `${offsetMs < 0 ? "-" : "+"}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/** Worked example: 0 at an hour ahead of UTC is 1970-01-01T01:00:00.000000+01:00. */
function writtenTime(epochUs: number, offsetMs: number): string {
  const micros = ((epochUs % 1e6) + 1e6) % 1e6;
  const second = secondText((epochUs - micros) / 1000 + offsetMs, "T");
  return `${second}.${String(micros).padStart(6, "0")}${offsetText(offsetMs)}`;
}
