import type { JourneyInput } from "../../model/journey/journey.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";

/** A tag at a read point, with what it is evidence of. */
export interface ToldSighting {
  /** Microseconds since 1970. */
  epochUs: number;
  facility: string;
  readPoint: string;
  /** As runs.csv writes it, or a pseudonym. */
  tag: string;
  /** Microseconds since 1970; null where it is not known. */
  knownAtUs: number | null;
  /** The runs that were under way with it as item or carrier, in natural order; the round in front where there are several. */
  runs: string[];
  /** The file that tells of it, relative to the data folder. */
  input: string;
}

/** The sightings behind a journey, by time and place: those of items while a run of theirs was under way, and of their carriers. */
export function toldSightings({ journey, rows, tags, sightings }: JourneyInput): ToldSighting[] {
  const aroundUs = Math.round((journey.carrier?.withinS ?? 0) * 1e6);
  const trips = new Map<number, { fromUs: number; toUs: number; run: string }[]>();
  const add = (tag: number, trip: { fromUs: number; toUs: number; run: string }) => {
    const own = trips.get(tag);
    if (own === undefined) trips.set(tag, [trip]);
    else own.push(trip);
  };
  for (const { round, run: id, tag, carrier, fromUs, toUs } of rows) {
    const run = journey.rounds.length > 1 ? `${journey.rounds[round]!.id}/${id}` : id;
    add(tag, { fromUs, toUs, run });
    if (carrier >= 0) add(carrier, { fromUs: fromUs - aroundUs, toUs: toUs + aroundUs, run });
  }
  const told: ToldSighting[] = [];
  for (let i = 0; i < sightings.length; i += 1) {
    const [tag, epochUs, known] = [sightings.tag[i]!, sightings.timeUs[i]!, sightings.knownUs[i]!];
    const runs = new Set<string>();
    for (const { fromUs, toUs, run } of trips.get(tag) ?? [])
      if (epochUs >= fromUs && epochUs <= toUs) runs.add(run);
    told.push({
      epochUs,
      ...sightings.places[sightings.place[i]!]!,
      tag: tags[tag]!,
      knownAtUs: Number.isNaN(known) ? null : known,
      runs: [...runs].sort(stableBy(byNaturalOrder, byCodePoint)),
      input: sightings.sources[sightings.source[i]!]!,
    });
  }
  return told.sort(
    stableBy(
      (a, b) => a.epochUs - b.epochUs,
      (a, b) => byCodePoint(a.facility, b.facility),
      (a, b) => byCodePoint(a.readPoint, b.readPoint),
      (a, b) => (a.knownAtUs ?? -1) - (b.knownAtUs ?? -1),
      (a, b) => byCodePoint(a.tag, b.tag),
    ),
  );
}
