import { instantText } from "../../model/instants.ts";
import type { Journey, JourneyInput, RunRow, Sightings } from "../../model/journey/journey.ts";
import {
  CarrierState,
  type Lags,
  LegState,
  OrderState,
  type Outcomes,
} from "../../model/journey/outcomes.ts";

/** The sightings of a tag from one number up to, and without, another. */
export interface Stretch {
  from: number;
  to: number;
}

/** Sightings by tag and time, to be asked for stretches of time. */
export class SightingsByTag {
  readonly sightings: Sightings;
  /** By tag: its first sighting; one more at the end. */
  readonly #starts: Int32Array;

  constructor(sightings: Sightings, tags: number) {
    this.sightings = sightings;
    const starts = new Int32Array(tags + 1);
    for (let i = 0; i < sightings.length; i += 1) starts[sightings.tag[i]! + 1]! += 1;
    for (let tag = 0; tag < tags; tag += 1) starts[tag + 1]! += starts[tag]!;
    this.#starts = starts;
  }

  /** The sightings of a tag in a stretch of time, both ends included. */
  within(tag: number, fromUs: number, toUs: number): Stretch {
    const own = { from: this.#starts[tag]!, to: this.#starts[tag + 1]! };
    return { from: this.#firstFrom(own, fromUs), to: this.#firstFrom(own, toUs + 1) };
  }

  /** The first of them at a microsecond or later. */
  #firstFrom({ from, to }: Stretch, us: number): number {
    const { timeUs } = this.sightings;
    let low = from;
    let high = to;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (timeUs[middle]! < us) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** The sighting of a tag at a place that is nearest to a time, the earlier of two; -1 where there is none. */
  nearest(tag: number, place: number, us: number): number {
    const { timeUs, place: places } = this.sightings;
    const start = this.#starts[tag]!;
    const end = this.#starts[tag + 1]!;
    const middle = this.#firstFrom({ from: start, to: end }, us);
    let after = middle;
    while (after < end && places[after] !== place) after += 1;
    let before = middle - 1;
    const span = after < end ? timeUs[after]! - us : Number.POSITIVE_INFINITY;
    while (before >= start && places[before] !== place && us - timeUs[before]! <= span) before -= 1;
    const isBefore = before >= start && places[before] === place && us - timeUs[before]! <= span;
    if (isBefore) return before;
    return after < end ? after : -1;
  }
}

/** What the legs of a journey mean for its sightings. */
export interface LegPlaces {
  /** By leg: the number of its place among the sightings'; -1 where no sighting is there. */
  place: Int32Array;
  /** By place: the first leg there; -1 in a wrong place. */
  firstLeg: Int32Array;
}

/** Several legs may be at one place, and a place may be of no leg: what is seen there was carried to a wrong one. */
export function legPlaces({ legs }: Journey, { places }: Sightings): LegPlaces {
  const numberOf = new Map(places.map(({ facility, readPoint }, i) => [`${facility}\n${readPoint}`, i]));
  const place = Int32Array.from(
    legs,
    ({ facility, readPoint }) => numberOf.get(`${facility}\n${readPoint}`) ?? -1,
  );
  const firstLeg = new Int32Array(places.length).fill(-1);
  for (let leg = legs.length - 1; leg >= 0; leg -= 1) if (place[leg]! >= 0) firstLeg[place[leg]!] = leg;
  return { place, firstLeg };
}

/**
 * What became of every item on every leg.
 *
 * Seen on a leg: a sighting at its read point while the run was under way, the first of which lies at most `within_s` after that of the
 * latest earlier leg seen (after the start where none was); later is late. A leg at the read point of an earlier leg takes only
 * sightings after a leg in between was seen somewhere else: without one, nobody can tell the two apart, and it is not seen.
 *
 * Out of order: seen, but before an earlier leg. At one microsecond is no order broken.
 */
export function outcomesOf({ journey, rows, tags }: JourneyInput, byTag: SightingsByTag): Outcomes {
  const { sightings } = byTag;
  const { legs, carrier: rule } = journey;
  const places = legPlaces(journey, sightings);
  const outcomes = emptyOutcomes(rows, legs.length);
  const firstAt = new Float64Array(sightings.places.length);
  const asksCarrier = legs.map(({ id }) => rule?.at.includes(id) ?? false);
  const carrierUs = Math.round((rule?.withinS ?? 0) * 1e6);
  const repeats = legs.map((_, leg) => places.place.subarray(0, leg).lastIndexOf(places.place[leg]!));
  for (const [row, { tag, carrier, fromUs, toUs }] of rows.entries()) {
    const own = byTag.within(tag, fromUs, toUs);
    firstAt.fill(Number.NaN);
    for (let i = own.from; i < own.to; i += 1) {
      const place = sightings.place[i]!;
      if (Number.isNaN(firstAt[place]!)) firstAt[place] = sightings.timeUs[i]!;
    }
    let since = fromUs;
    let latest = Number.NEGATIVE_INFINITY;
    let lastSeen = -1;
    let seen = 0;
    let isWhole = true;
    let isInOrder = true;
    for (const [leg, { withinS, optional }] of legs.entries()) {
      const at = row * legs.length + leg;
      const place = places.place[leg]!;
      const repeated = place < 0 ? -1 : repeats[leg]!;
      let time = place < 0 ? Number.NaN : firstAt[place]!;
      if (repeated >= 0)
        time = lastSeen > repeated ? firstAfter(sightings, own, { place, us: since }) : Number.NaN;
      outcomes.sinceUs[at] = since;
      outcomes.atUs[at] = time;
      if (Number.isNaN(time)) outcomes.state[at] = LegState.notSeen;
      else if (withinS !== null && time - since > Math.round(withinS * 1e6))
        outcomes.state[at] = LegState.late;
      else {
        const isBefore = time < latest;
        outcomes.state[at] = isBefore ? LegState.outOfOrder : LegState.seen;
        if (isBefore) isInOrder = false;
        latest = Math.max(latest, time);
        since = time;
        lastSeen = leg;
        seen += 1;
        if (asksCarrier[leg] && carrier >= 0) {
          const nearest = byTag.nearest(carrier, place, time);
          const heardUs = nearest < 0 ? Number.NaN : sightings.timeUs[nearest]!;
          outcomes.carrierUs[at] = heardUs;
          outcomes.carrier[at] =
            Math.abs(heardUs - time) <= carrierUs ? CarrierState.heard : CarrierState.notHeard;
        }
        continue;
      }
      if (!optional) isWhole = false;
    }
    outcomes.whole[row] = isWhole ? 1 : 0;
    outcomes.order[row] = seen < 2 ? OrderState.unknown : isInOrder ? OrderState.kept : OrderState.broken;
  }
  return {
    ...outcomes,
    lags: lagsOf({ rows, tags: tags.length, carrierUs, firstLeg: places.firstLeg }, sightings),
  };
}

function firstAfter(
  { timeUs, place: places }: Sightings,
  { from, to }: Stretch,
  { place, us }: { place: number; us: number },
): number {
  for (let i = from; i < to; i += 1) if (places[i] === place && timeUs[i]! > us) return timeUs[i]!;
  return Number.NaN;
}

function emptyOutcomes(rows: readonly RunRow[], legs: number): Outcomes {
  const cells = rows.length * legs;
  const numbers = new Map<string, number>();
  const starts: number[] = [];
  const run = Int32Array.from(rows, ({ round, run: id, fromUs }) => {
    const key = `${round}\n${id}`;
    const number = numbers.get(key) ?? numbers.size;
    numbers.set(key, number);
    starts[number] = Math.min(starts[number] ?? fromUs, fromUs);
    return number;
  });
  const nowhere = () => new Float64Array(cells).fill(Number.NaN);
  return {
    rows,
    legs,
    run,
    runStarts: starts.map(instantText),
    state: new Uint8Array(cells),
    atUs: nowhere(),
    sinceUs: nowhere(),
    carrier: new Uint8Array(cells),
    carrierUs: nowhere(),
    whole: new Uint8Array(rows.length),
    order: new Uint8Array(rows.length),
    lags: { length: 0, row: none, leg: none, tag: none, seconds: new Float64Array(0) },
  };
}

const none = new Int32Array(0);

/** Every sighting that tells when the site knew of it, with the row that it belongs to: a valid one before a void one, the earliest of them. */
function lagsOf(
  {
    rows,
    tags,
    carrierUs,
    firstLeg,
  }: { rows: readonly RunRow[]; tags: number; carrierUs: number; firstLeg: Int32Array },
  sightings: Sightings,
): Lags {
  const { length, tag, timeUs, knownUs, place } = sightings;
  const spans: { row: number; fromUs: number; toUs: number }[][] = Array.from({ length: tags }, () => []);
  for (const isVoid of [false, true]) {
    for (const [row, each] of rows.entries()) {
      if ((each.voidReason !== null) !== isVoid) continue;
      const { fromUs, toUs, carrier } = each;
      spans[each.tag]!.push({ row, fromUs, toUs });
      if (carrier >= 0) spans[carrier]!.push({ row, fromUs: fromUs - carrierUs, toUs: toUs + carrierUs });
    }
  }
  const row = new Int32Array(length);
  const leg = new Int32Array(length);
  const ofTag = new Int32Array(length);
  const seconds = new Float64Array(length);
  let kept = 0;
  let lastTag = -1;
  let past = 0;
  for (let i = 0; i < length; i += 1) {
    if (Number.isNaN(knownUs[i]!)) continue;
    const own = spans[tag[i]!]!;
    const us = timeUs[i]!;
    if (tag[i] !== lastTag) past = 0;
    lastTag = tag[i]!;
    // Sightings of a tag come in the order of time: what is over by now is over for those that follow.
    while (past < own.length && own[past]!.toUs < us) past += 1;
    let at = past;
    while (at < own.length && (us < own[at]!.fromUs || us > own[at]!.toUs)) at += 1;
    if (at === own.length) continue;
    row[kept] = own[at]!.row;
    leg[kept] = firstLeg[place[i]!]!;
    ofTag[kept] = tag[i]!;
    seconds[kept] = (knownUs[i]! - us) / 1e6;
    kept += 1;
  }
  return {
    length: kept,
    row: row.subarray(0, kept),
    leg: leg.subarray(0, kept),
    tag: ofTag.subarray(0, kept),
    seconds: seconds.subarray(0, kept),
  };
}
