import type { Result } from "../model/result.ts";
import { type RoundPair, roundPairs } from "./changes/round-pairs.ts";

const longest = 60;

/** Names that Windows keeps for devices, with or without an extension. */
const devices = /^(con|prn|aux|nul|com\d|lpt\d)$/;

/** A file name's worth of a text: lower-case ASCII letters, digits and single hyphens, never empty. */
export function slug(text: string): string {
  const plain = text
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, longest)
    .replace(/-+$/, "");
  if (plain === "") return "unnamed";
  return devices.test(plain) ? `${plain}-named` : plain;
}

/** One slug a text, all different: the first to ask for a name has it, later ones get a number. */
export function distinctSlugs(texts: string[]): string[] {
  const taken = new Set<string>();
  return texts.map((text) => {
    const wanted = slug(text);
    let name = wanted;
    for (let number = 2; taken.has(name); number += 1) name = `${wanted}-${number}`;
    taken.add(name);
    return name;
  });
}

/** FNV-1a in 32 bits, as eight hexadecimal digits: enough to tell apart two names that share a slug. */
function mark(text: string): string {
  let hash = 0x811c9dc5;
  for (const character of text) {
    hash = Math.imul(hash ^ (character.codePointAt(0) as number), 0x01000193);
  }
  return (hash >>> 0).toString(16).padStart(8, "0");
}

/**
 * The folder of a facility in the site. An id that is a good folder name is kept; any other gets a mark of its own, so that
 * two facilities never share a folder and neither has to know of the other.
 */
export function facilityFolder(id: string): string {
  const sound = /^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(id) && !id.endsWith(".") && id.length <= longest;
  const stem = id.split(".")[0]!.toLowerCase();
  const free = !devices.test(stem) && id.toLowerCase() !== "assets";
  return sound && free ? id : `${slug(id)}-${mark(id)}`;
}

/** Where the pages of one facility stand, from the site's root. */
export interface FacilityPaths {
  folder: string;
  overview: string;
  rounds: string;
  passes: string;
  inputs: string;
  method: string;
  signOffSheet: string;
  plan: string;
  aisle: string;
  /** By read point id; each has a log ready to fill beside it, under the same name. */
  walkSheets: Map<string, string>;
  walkLogs: Map<string, string>;
  result: string;
  /** By read point id. */
  readPoints: Map<string, string>;
  /** The page of a pair of rounds that were compared. */
  changes: (pair: RoundPair) => string;
  /** The path of a table by its name, without extension. */
  table: (name: string) => string;
}

export function facilityPaths(
  result: Pick<Result, "facility" | "readPoints" | "comparisons">,
): FacilityPaths {
  const folder = facilityFolder(result.facility.id);
  const ids = result.readPoints.map((point) => point.id);
  const slugs = distinctSlugs(ids);
  const pairs = roundPairs(result);
  const keyOf = ({ before, after }: RoundPair) => JSON.stringify([before, after]);
  const pairSlugs = distinctSlugs(pairs.map(({ before, after }) => `${before}-to-${after}`));
  const changes = new Map(pairs.map((pair, i) => [keyOf(pair), `${folder}/changes/${pairSlugs[i]}.html`]));
  return {
    folder,
    overview: `${folder}/index.html`,
    rounds: `${folder}/rounds.html`,
    passes: `${folder}/passes.html`,
    inputs: `${folder}/inputs.html`,
    method: `${folder}/method.html`,
    signOffSheet: `${folder}/sign-off-sheet.html`,
    plan: `${folder}/plan.html`,
    aisle: `${folder}/aisle.html`,
    walkSheets: new Map(ids.map((id, i) => [id, `${folder}/walk-sheets/${slugs[i]}.html`])),
    walkLogs: new Map(ids.map((id, i) => [id, `${folder}/walk-sheets/${slugs[i]}.csv`])),
    result: `${folder}/result.json`,
    readPoints: new Map(ids.map((id, i) => [id, `${folder}/read-points/${slugs[i]}.html`])),
    changes: (pair) => changes.get(keyOf(pair)) as string,
    table: (name) => `${folder}/tables/${slug(name)}.csv`,
  };
}

/** From one file of the site to another, ending in a file name: `../index.html`. */
export function relativeLink(from: string, to: string): string {
  const source = from.split("/").slice(0, -1);
  const target = to.split("/");
  let shared = 0;
  while (shared < source.length && shared < target.length - 1 && source[shared] === target[shared])
    shared += 1;
  return [...source.slice(shared).map(() => ".."), ...target.slice(shared)].join("/");
}

/** The way from a file to the site's root: empty, `../` or longer. */
export function rootOf(path: string): string {
  return "../".repeat(path.split("/").length - 1);
}

/** Anchors of the passes page: by round, read point and pass. */
export function passAnchors(
  result: Pick<Result, "readPoints">,
): (round: string, readPoint: string, pass: string) => string {
  const key = (round: string, readPoint: string, pass: string) => JSON.stringify([round, readPoint, pass]);
  const keys: string[] = [];
  const names: string[] = [];
  for (const point of result.readPoints) {
    for (const round of point.rounds) {
      for (const pass of round.passList) {
        keys.push(key(round.id, point.id, pass.id));
        names.push(`${slug(point.id)}-${slug(round.id)}-${slug(pass.id)}`);
      }
    }
  }
  const anchors = new Map(distinctAnchors(names).map((anchor, i) => [keys[i] as string, anchor]));
  return (round, readPoint, pass) => anchors.get(key(round, readPoint, pass)) ?? "passes";
}

function distinctAnchors(names: string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let anchor = `pass-${name}`;
    for (let number = 2; taken.has(anchor); number += 1) anchor = `pass-${name}-${number}`;
    taken.add(anchor);
    return anchor;
  });
}

/** The letter a read point carries on the plan: A to Z, then AA, AB ... */
export function planLetter(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : planLetter(Math.floor(index / 26) - 1) + letter;
}
