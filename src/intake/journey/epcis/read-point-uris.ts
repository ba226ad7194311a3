import { readPointOfUri, thingName } from "../../../codes/thing-names.ts";
import type { Place } from "../../../model/journey/journey.ts";

/**
 * Finds the read point of a URI in the table of a journey's YAML, however the URI is written (a location as an EPC URI or as a Digital Link);
 * URIs that this tool gave read points need no table.
 */
export function readPointFinder(
  table: ReadonlyMap<string, Place | "elsewhere">,
): (uri: string) => Place | "elsewhere" | null {
  const byName = new Map([...table].map(([uri, place]) => [thingName(uri), place]));
  return (uri) => byName.get(thingName(uri)) ?? readPointOfUri(uri);
}
