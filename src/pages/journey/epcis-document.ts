import { Temporal } from "temporal-polyfill";
import type { ToldSighting } from "../../analysis/journey/told-sightings.ts";
import { documentUri, readPointUri } from "../../codes/thing-names.ts";
import { reportName } from "../../model/facility.ts";
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
  const offsets = new Offsets(timeZoneOf);
  let before = "\n";
  for (const alike of moments(sightings)) {
    const { epochUs, facility, readPoint, knownAtUs, runs, input } = alike[0]!;
    const offset = offsets.at(facility, epochUs);
    const event = {
      type: "ObjectEvent",
      eventTime: writtenTime(epochUs, offset),
      eventTimeZoneOffset: offset.text,
      ...(knownAtUs === null ? {} : { recordTime: writtenTime(knownAtUs, offset) }),
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

interface Offset {
  us: number;
  /** `+01:00`. */
  text: string;
}

/** Offsets from UTC in the facilities' time zones. */
class Offsets {
  readonly #zoneOf: (facility: string) => string | null;
  /** By facility and hour: no zone changes its offset within one. */
  readonly #known = new Map<string, Offset>();

  constructor(zoneOf: (facility: string) => string | null) {
    this.#zoneOf = zoneOf;
  }

  at(facility: string, epochUs: number): Offset {
    const key = `${Math.floor(epochUs / quarterUs)} ${facility}`;
    let offset = this.#known.get(key);
    if (offset === undefined) {
      const zone = this.#zoneOf(facility) ?? "UTC";
      const { offset: text, offsetNanoseconds } = Temporal.Instant.fromEpochMilliseconds(
        Math.floor(epochUs / 1000),
      ).toZonedDateTimeISO(zone);
      // Offsets with seconds are of the nineteenth century, and no EPCIS offset may have them.
      offset = { us: offsetNanoseconds / 1000, text: text.slice(0, 6) };
      this.#known.set(key, offset);
    }
    return offset;
  }
}

const quarterUs = 15 * 60 * 1_000_000;

const epoch = Temporal.PlainDateTime.from("1970-01-01T00:00");

/** Worked example: 0 at +01:00 is 1970-01-01T01:00:00.000000+01:00. */
function writtenTime(epochUs: number, offset: Offset): string {
  const wall = epoch.add({ microseconds: epochUs + offset.us });
  return `${wall.toString({ smallestUnit: "microsecond" })}${offset.text}`;
}
