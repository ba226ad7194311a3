import type { MissMap } from "../../model/diagnosis/why.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import type { DiagnosedPoint, Source } from "./misses/candidate.ts";
import { diagnosedColumns } from "./misses/columns.ts";
import { sumsBy } from "./misses/miss-counts.ts";

/** More rows or columns than a page can show are left out. */
const most = 400;

/** Tags by passes: passes in the order walked, tags of one place together, the place and the tag missed most first. */
export const missMap: Source<MissMap> = (point) => {
  const isShown = point.misses > 0 && point.namesTags;
  return { candidates: [], details: () => (isShown ? mapOf(point) : null) };
};

function mapOf(point: DiagnosedPoint): MissMap {
  const { log } = point.walked;
  const tags = kept(sumsBy(point, "tag"));
  const passes = kept(sumsBy(point, "pass"));
  const places = placesOf(point);
  const missesAt = new Map<string, number>();
  const shownAt = new Map<string, number>();
  for (const { number, missed, presented } of tags.shown) {
    const place = places(number);
    missesAt.set(place, (missesAt.get(place) ?? 0) + missed);
    shownAt.set(place, (shownAt.get(place) ?? 0) + presented);
  }
  const rateAt = (place: string) => missesAt.get(place)! / shownAt.get(place)!;
  const ordered = tags.shown.sort(
    stableBy(
      (a, b) => rateAt(places(b.number)) - rateAt(places(a.number)),
      (a, b) => byCodePoint(places(a.number), places(b.number)),
      (a, b) => b.missed - a.missed,
      (a, b) => byCodePoint(log.tags[a.number]!, log.tags[b.number]!),
    ),
  );
  const rowOf = placeIn(ordered, log.tags.length);
  const columnOf = placeIn(passes.shown, log.passes.length);
  const cells = ordered.map(() => new Array<string>(passes.shown.length).fill("."));
  const { tag, pass, missed } = point.of;
  for (let i = 0; i < tag.length; i += 1) {
    const at = rowOf[tag[i]!]!;
    const column = columnOf[pass[i]!]!;
    if (at === -1 || column === -1) continue;
    if (missed[i]! > 0) cells[at]![column] = "m";
    else if (cells[at]![column] === ".") cells[at]![column] = "r";
  }
  return {
    tags: ordered.map(({ number }) => log.tags[number]!),
    passes: passes.shown.map(({ number }) => log.passes[number]!.id),
    cells: cells.map((line) => line.join("")),
    leftOut: { tags: tags.leftOut, passes: passes.leftOut },
  };
}

/** At most so many, those with the most misses first; in the order of their numbers. */
function kept<Sum extends { number: number; missed: number }>(
  sums: readonly Sum[],
): { shown: Sum[]; leftOut: number } {
  const shown = [...sums].sort((a, b) => b.missed - a.missed || a.number - b.number).slice(0, most);
  return { shown: shown.sort((a, b) => a.number - b.number), leftOut: sums.length - shown.length };
}

function placeIn(shown: readonly { number: number }[], length: number): Int16Array {
  const places = new Int16Array(length).fill(-1);
  shown.forEach(({ number }, place) => {
    places[number] = place;
  });
  return places;
}

/** What is said of a tag in every pass alike, such as where it sits in the load: tags of which the same is said lie together. */
function placesOf(point: DiagnosedPoint): (tag: number) => string {
  const { tag } = point.of;
  const tags = point.walked.log.tags.length;
  const fixed = diagnosedColumns(point).flatMap(({ values }) => {
    const valueOfTag = new Int16Array(tags).fill(-2);
    for (let i = 0; i < tag.length; i += 1) {
      const value = values[i]!;
      const known = valueOfTag[tag[i]!]!;
      if (known === -2) valueOfTag[tag[i]!] = value;
      else if (known !== value) return [];
    }
    return [valueOfTag];
  });
  return (number) => fixed.map((valueOfTag) => valueOfTag[number]).join();
}
