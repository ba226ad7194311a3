/** A stretch of time in which a tag was under way, both ends included. */
export interface Trip<Tag extends string | number> {
  tag: Tag;
  /** Microseconds since 1970. */
  fromUs: number;
  toUs: number;
}

/** The same stretches with those of one tag that meet or overlap made one, so that a time lies in at most one of them. */
export function mergedTrips<Tag extends string | number>(trips: readonly Trip<Tag>[]): Trip<Tag>[] {
  const byTag = new Map<Tag, Trip<Tag>[]>();
  for (const trip of trips) {
    const own = byTag.get(trip.tag);
    if (own === undefined) byTag.set(trip.tag, [trip]);
    else own.push(trip);
  }
  return [...byTag.values()].flatMap((own) => {
    const merged: Trip<Tag>[] = [];
    for (const trip of own.sort((a, b) => a.fromUs - b.fromUs)) {
      const last = merged.at(-1);
      if (last === undefined || trip.fromUs > last.toUs) merged.push({ ...trip });
      else last.toUs = Math.max(last.toUs, trip.toUs);
    }
    return merged;
  });
}
