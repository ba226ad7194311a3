import { codeUri } from "../../codes/code-uri.ts";
import { instantText, ZoneClock } from "../../model/instants.ts";
import type { ItemResult, LegOfItem, LostItem, Visit, WrongPlace } from "../../model/journey/item.ts";
import type { Journey, JourneyInput } from "../../model/journey/journey.ts";
import { CarrierState, LegState, OrderState, type Outcomes } from "../../model/journey/outcomes.ts";
import { legPlaces, type SightingsByTag, type Stretch } from "./outcomes.ts";

/** What the clocks on the walls of some facilities show. */
class WallClocks {
  readonly #clocks: ReadonlyMap<string, ZoneClock | null>;

  constructor(facilities: readonly { id: string; timeZone: string | null }[]) {
    this.#clocks = new Map(
      facilities.map(({ id, timeZone }) => [id, timeZone === null ? null : new ZoneClock(timeZone)]),
    );
  }

  /** YYYY-MM-DD HH:MM:SS; null where the facility states no time zone. */
  local(us: number, facility: string): string | null {
    return this.#clocks.get(facility)?.textAt(us) ?? null;
  }
}

/** More visits than anybody follows on a page. */
const mostVisits = 200;

const stateNames = {
  [LegState.notSeen]: "not-seen",
  [LegState.late]: "late",
  [LegState.seen]: "seen",
  [LegState.outOfOrder]: "out-of-order",
} as const;

/** What became of each item, and what is to be said of those that were lost or seen where they were not sent. */
export function itemResults(
  input: JourneyInput,
  outcomes: Outcomes,
  byTag: SightingsByTag,
): { items: ItemResult[]; lost: LostItem[]; wrongPlaces: WrongPlace[] } {
  const { journey, rows, tags } = input;
  const { sightings } = byTag;
  const clocks = new WallClocks(input.facilities);
  const { firstLeg } = legPlaces(journey, sightings);
  const carriers = new Set(rows.map(({ carrier }) => carrier));
  const judged = journey.rounds.findIndex(({ id }) => id === journey.signOffRound);
  const lastLeg = journey.legs.findLastIndex(({ optional }) => !optional);
  const lost: LostItem[] = [];
  const wrongPlaces: WrongPlace[] = [];
  const uris = tags.map(codeUri);
  const items = rows.map((row, number): ItemResult => {
    const own = byTag.within(row.tag, row.fromUs, row.toUs);
    const legs = legsOfItem(journey, outcomes, { number, clocks });
    const isSound = outcomes.whole[number] === 1 && legs.every(({ state }) => state === "seen");
    const isElsewhere = hasWrongPlace(own, sightings.place, firstLeg);
    const isUnheard = legs.some(({ carrier }) => carrier?.heard === false);
    const isPlain = isSound && !isElsewhere && !isUnheard;
    const visits = isPlain ? null : visitsOf(own, { journey, byTag, clocks, firstLeg });
    const isJudged = row.round === judged && row.voidReason === null;
    if (isJudged && isElsewhere && !carriers.has(row.tag))
      wrongPlaces.push(...wrongPlacesOf(own, number, { byTag, clocks, firstLeg }));
    const isBehind = journey.legs.some(
      (_, leg) => leg >= lastLeg && outcomes.state[number * outcomes.legs + leg] !== LegState.notSeen,
    );
    if (isJudged && lastLeg >= 0 && !isBehind)
      lost.push(lostItem(own, number, { journey, outcomes, byTag, clocks, firstLeg }));
    return {
      round: journey.rounds[row.round]!.id,
      run: row.run,
      tag: tags[row.tag]!,
      uri: uris[row.tag] ?? null,
      carrier: row.carrier < 0 ? null : tags[row.carrier]!,
      startedAt: instantText(row.fromUs),
      endedAt: instantText(row.toUs),
      voidReason: row.voidReason,
      note: row.note,
      whole: outcomes.whole[number] === 1,
      inOrder:
        outcomes.order[number] === OrderState.unknown ? null : outcomes.order[number] === OrderState.kept,
      legs,
      sightings: own.to - own.from,
      visits: visits?.slice(0, mostVisits) ?? null,
      visitsLeftOut: Math.max(0, (visits?.length ?? 0) - mostVisits),
    };
  });
  return { items, lost, wrongPlaces };
}

function legsOfItem(
  { legs }: Journey,
  outcomes: Outcomes,
  { number, clocks }: { number: number; clocks: WallClocks },
): LegOfItem[] {
  return legs.map(({ id, facility }, leg) => {
    const at = number * outcomes.legs + leg;
    const us = outcomes.atUs[at]!;
    const isThere = !Number.isNaN(us);
    const heardUs = outcomes.carrierUs[at]!;
    const isHeard = !Number.isNaN(heardUs);
    return {
      leg: id,
      state: stateNames[outcomes.state[at] as keyof typeof stateNames],
      at: isThere ? instantText(us) : null,
      atLocal: isThere ? clocks.local(us, facility) : null,
      afterS: isThere ? (us - outcomes.sinceUs[at]!) / 1e6 : null,
      carrier:
        outcomes.carrier[at] === CarrierState.notAsked
          ? null
          : {
              heard: outcomes.carrier[at] === CarrierState.heard,
              at: isHeard ? instantText(heardUs) : null,
              apartS: isHeard ? Math.abs(heardUs - us) / 1e6 : null,
            },
    };
  });
}

function hasWrongPlace({ from, to }: Stretch, place: Int32Array, firstLeg: Int32Array): boolean {
  for (let i = from; i < to; i += 1) if (firstLeg[place[i]!]! < 0) return true;
  return false;
}

interface Seen {
  byTag: SightingsByTag;
  clocks: WallClocks;
  firstLeg: Int32Array;
}

/** Sightings at one place with none elsewhere between them, one entry for each such row of them. */
function visitsOf(
  { from, to }: Stretch,
  { journey, byTag, clocks, firstLeg }: Seen & { journey: Journey },
): Visit[] {
  const { timeUs, place: placeOf, places } = byTag.sightings;
  const visits: Visit[] = [];
  for (let start = from; start < to; ) {
    let end = start + 1;
    while (end < to && placeOf[end] === placeOf[start]) end += 1;
    const place = places[placeOf[start]!]!;
    visits.push({
      ...place,
      leg: journey.legs[firstLeg[placeOf[start]!]!]?.id ?? null,
      ...firstAndLast([timeUs[start]!, timeUs[end - 1]!], place.facility, clocks),
      sightings: end - start,
    });
    start = end;
  }
  return visits;
}

function firstAndLast([first, last]: [number, number], facility: string, clocks: WallClocks) {
  return {
    first: instantText(first),
    firstLocal: clocks.local(first, facility),
    last: instantText(last),
    lastLocal: clocks.local(last, facility),
  };
}

/** Read points of no leg that saw the item, in the order of their first sightings. */
function wrongPlacesOf({ from, to }: Stretch, item: number, { byTag, clocks, firstLeg }: Seen): WrongPlace[] {
  const { timeUs, place: placeOf, places } = byTag.sightings;
  const found = new Map<number, { first: number; last: number; sightings: number }>();
  for (let i = from; i < to; i += 1) {
    const place = placeOf[i]!;
    if (firstLeg[place]! >= 0) continue;
    const known = found.get(place) ?? { first: timeUs[i]!, last: 0, sightings: 0 };
    found.set(place, { ...known, last: timeUs[i]!, sightings: known.sightings + 1 });
  }
  return [...found].map(([number, { first, last, sightings }]) => {
    const place = places[number]!;
    return { ...place, item, ...firstAndLast([first, last], place.facility, clocks), sightings };
  });
}

function lostItem(
  { from, to }: Stretch,
  item: number,
  { journey, outcomes, byTag, clocks, firstLeg }: Seen & { journey: Journey; outcomes: Outcomes },
): LostItem {
  const { timeUs, place: placeOf, places } = byTag.sightings;
  const missing = journey.legs.filter(
    ({ optional }, leg) => !optional && outcomes.state[item * outcomes.legs + leg]! < LegState.seen,
  );
  const last = to - 1;
  const place = from < to ? places[placeOf[last]!]! : null;
  return {
    item,
    missing: missing.map(({ id }) => id),
    lastSeen:
      place === null
        ? null
        : {
            ...place,
            at: instantText(timeUs[last]!),
            atLocal: clocks.local(timeUs[last]!, place.facility),
            leg: journey.legs[firstLeg[placeOf[last]!]!]?.id ?? null,
          },
  };
}
