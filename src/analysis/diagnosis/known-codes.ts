import { type PassLog, Role } from "../../model/pass-log.ts";
import type { WalkedFacility } from "../../model/rows.ts";

/** A place of the facility whose logs know a code. */
export interface KnownPlace {
  readPoint: string;
  round: string;
  /** The load that presents it; null where the log itself names its tags, or where it was only heard. */
  manifest: string | null;
  /** The clock minute, in UTC, in which it was heard there too; null where a load presents it. */
  minute: string | null;
}

type Loads = (tag: number) => KnownPlace[];

const loadsOf = new WeakMap<PassLog, Loads>();

/** Where codes are presented: found in one walk over the rows, the first time that anybody asks. */
function loads(log: PassLog): Loads {
  const known = loadsOf.get(log);
  if (known !== undefined) return known;
  const { rows, passes, tags } = log;
  const places: KnownPlace[] = [];
  const numbers = new Map<string, number>();
  const placeOfPass = passes.map(({ readPoint, round, manifest }) => {
    const key = JSON.stringify([readPoint, round, manifest]);
    const number = numbers.get(key) ?? places.push({ readPoint, round, manifest, minute: null }) - 1;
    numbers.set(key, number);
    return number;
  });
  /** Chains by tag: the last link of a tag, and by link its place and the link before. */
  const last = new Int32Array(tags.length).fill(-1);
  const links: { place: number; before: number }[] = [];
  for (let row = 0; row < rows.length; row += 1) {
    const tag = rows.tag[row]!;
    if (tag === -1 || rows.role[row] !== Role.presented) continue;
    const place = placeOfPass[rows.pass[row]!]!;
    let link = last[tag]!;
    while (link !== -1 && links[link]!.place !== place) link = links[link]!.before;
    if (link === -1) last[tag] = links.push({ place, before: last[tag]! }) - 1;
  }
  const found: Loads = (tag) => {
    const own: number[] = [];
    for (let link = last[tag]!; link !== -1; link = links[link]!.before) own.push(links[link]!.place);
    return own.sort((a, b) => a - b).map((place) => places[place]!);
  };
  loadsOf.set(log, found);
  return found;
}

/** Places whose loads present a tag, by its number, in the order walked. */
export function presentedAt({ log }: WalkedFacility, tag: number): KnownPlace[] {
  return loads(log)(tag);
}

const heardOf = new WeakMap<PassLog, Map<number, { pass: number; minute: string }[]>>();

/** Other read points that heard some tags in the same clock minutes. Asked for all tags of a read point together. */
export function heardBeside({ log }: WalkedFacility, readPoint: string, tag: number): KnownPlace[] {
  let heard = heardOf.get(log);
  if (heard === undefined) {
    heard = minutesOfStrays(log);
    heardOf.set(log, heard);
  }
  const all = heard.get(tag) ?? [];
  const own = new Set(
    all.flatMap(({ pass, minute }) => (log.passes[pass]!.readPoint === readPoint ? [minute] : [])),
  );
  const found = new Map<string, KnownPlace>();
  for (const { pass, minute } of all) {
    const { readPoint: other, round } = log.passes[pass]!;
    if (other !== readPoint && own.has(minute) && !found.has(other))
      found.set(other, { readPoint: other, round, manifest: null, minute });
  }
  return [...found.values()];
}

/** The minutes in which tags that some pass read uninvited were heard, with the passes. */
function minutesOfStrays(log: PassLog): Map<number, { pass: number; minute: string }[]> {
  const { rows, heard } = log;
  const minutes = new Map<number, { pass: number; minute: string }[]>();
  if (heard === null) return minutes;
  for (let row = 0; row < rows.length; row += 1) {
    if (rows.role[row] === Role.stray && rows.tag[row] !== -1) minutes.set(rows.tag[row]!, []);
  }
  if (minutes.size === 0) return minutes;
  for (let entry = 0; entry < heard.length; entry += 1) {
    minutes
      .get(heard.tag[entry]!)
      ?.push({ pass: heard.pass[entry]!, minute: heard.minutes[heard.minute[entry]!]! });
  }
  return minutes;
}
