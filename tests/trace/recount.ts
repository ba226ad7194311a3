import type { RawRow } from "./raw-rows.ts";

/** k of n, with the sizes and misses of its passes and tags where presentations are counted. */
export interface Count {
  k: number;
  n: number;
  rows: RawRow[];
}

export const presented = (rows: RawRow[]) => rows.filter((row) => row.presented);
export const bystanders = (rows: RawRow[]) => rows.filter((row) => !row.presented && row.tag !== "");

/** The names of the passes of some rows, in the order walked. */
export const passesOf = (rows: RawRow[]) => [...new Set(rows.map(({ pass }) => pass))];

/** Passes with a void reason on any of their rows. */
export function voidPasses(rows: RawRow[]): string[] {
  return passesOf(rows.filter(({ voidReason }) => voidReason !== ""));
}

export function withoutVoids(rows: RawRow[]): RawRow[] {
  const voids = voidPasses(rows);
  return rows.filter(({ pass }) => !voids.includes(pass));
}

export function tagsRead(rows: RawRow[]): Count {
  const counted = presented(rows);
  return { k: counted.filter(({ read }) => read).length, n: counted.length, rows: counted };
}

export function bystandersRead(rows: RawRow[]): Count {
  const counted = bystanders(rows);
  return { k: counted.filter(({ read }) => read).length, n: counted.length, rows: counted };
}

/** Passes that presented something, and those of them in which nothing was missed. */
export function completePasses(rows: RawRow[]): Count {
  const passes = passesOf(presented(rows));
  const missed = passesOf(presented(rows).filter(({ read }) => !read));
  return { k: passes.filter((pass) => !missed.includes(pass)).length, n: passes.length, rows: [] };
}

/** Every pass of this log records strays, since the log has a `presented` column. */
export function strayPasses(rows: RawRow[]): Count {
  const heard = passesOf(rows.filter(({ presented, read }) => !presented && read));
  return { k: heard.length, n: passesOf(rows).length, rows: [] };
}

/** Tags missed at least once, most often missed first. */
export function missedTags(rows: RawRow[]): { tag: string; missed: number; of: number; passes: string[] }[] {
  const missed = presented(rows).filter(({ read }) => !read);
  return [...new Set(missed.map(({ tag }) => tag))]
    .map((tag) => ({
      tag,
      missed: missed.filter((row) => row.tag === tag).length,
      of: presented(rows).filter((row) => row.tag === tag).length,
      passes: passesOf(missed.filter((row) => row.tag === tag)),
    }))
    .sort((one, other) => other.missed - one.missed || (one.tag < other.tag ? -1 : 1));
}

/** The signal of every presentation, weakest first, with the missed ones at minus infinity. */
export function signalRanks(rows: RawRow[]): number[] {
  return presented(rows)
    .map(({ read, rssiDbm }) => (read ? rssiDbm! : Number.NEGATIVE_INFINITY))
    .sort((one, other) => (one === other ? 0 : one - other));
}
