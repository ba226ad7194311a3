import type { RandomStream } from "./random-stream.ts";
import type { PlacedTag, Slot } from "./walk.ts";

const orientations = [
  ...["facing", "edge-on", "facing", "flat", "facing"],
  ...["edge-on", "facing", "flat", "facing", "edge-on"],
] as const;
const levels = ["bottom", "middle", "top"] as const;

/** The places of a stacked cage: half the tags face the antennas, three in ten are edge-on, two in ten lie flat. */
function slots(count: number): Slot[] {
  return Array.from({ length: count }, (_, i) => ({
    orientation: orientations[i % orientations.length]!,
    level: levels[Math.floor((i * levels.length) / count)]!,
  }));
}

const place = (tags: readonly string[]): PlacedTag[] =>
  slots(tags.length).map((slot, i) => ({ tag: tags[i]!, ...slot }));

/** A load that stays as it is from pass to pass, so that a manifest can list it. */
export const fixedLoad = (tags: readonly string[]) => (): PlacedTag[] => place(tags);

/** A load stacked anew before each pass with crates drawn from a pool, so that no tag keeps its place. */
export const restackedLoad =
  (pool: readonly string[], count: number) =>
  (stream: RandomStream): PlacedTag[] =>
    place(stream.shuffled(pool).slice(0, count));
