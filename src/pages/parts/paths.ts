import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import { type RoundPair, roundPairs } from "./round-pairs.ts";

const longest = 60;

/** Names that Windows keeps for devices, with or without an extension. */
const devices = /^(con|prn|aux|nul|com\d|lpt\d)$/;

/** What stands beside the facilities in the root of the site. */
const namesOfTheSite = [
  "assets",
  "index.html",
  "contents.sha256",
  "journeys",
  "made-with.json",
  "schemas",
  "site.json",
];

/** From the site's root: what the keys of a result mean, and the licences of what the site takes from others. */
export const resultSchemaPath = "schemas/result.schema.json";
export const journeySchemaPath = "schemas/journey-result.schema.json";
export const noticesPath = "assets/notices.txt";

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
  return distinct(texts.map(slug));
}

function distinct(wanted: string[]): string[] {
  const taken = new Set<string>();
  return wanted.map((text) => {
    let name = text;
    for (let number = 2; taken.has(name); number += 1) name = `${text}-${number}`;
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
 * two facilities never share a folder, whatever the other's id.
 */
export function facilityFolder(id: string): string {
  const sound = /^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(id) && !id.endsWith(".") && id.length <= longest;
  const stem = id.split(".")[0]!.toLowerCase();
  const free = !devices.test(stem) && !namesOfTheSite.includes(id.toLowerCase());
  return sound && free ? id : `${slug(id)}-${mark(id)}`;
}

/** Where the pages of one facility stand, from the site's root: those that other pages lead to. */
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
  result: string;
  /** Prints the evidence mark at the foot of every sheet of paper. */
  markStyle: string;
  /** Of an input file, by its path in the facility's folder. */
  input(path: string): string;
  /** By read point id, like the three below. */
  readPoint(id: string): string;
  why(id: string): string;
  walkSheet(id: string): string;
  /** A log ready to fill, beside the walk sheet. */
  walkLog(id: string): string;
  /** The same as a workbook. */
  walkWorkbook(id: string): string;
  /** The file name of a read point's pages, without extension: also in the names of its tables and anchors. */
  readPointStem(id: string): string;
  /** Of a pair of rounds that were compared: in the names of its tables and anchors. */
  changesStem(pair: RoundPair): string;
  /** The path of a table by its file's name, without extension. */
  table(name: string): string;
}

export function facilityPaths(
  result: Pick<Result, "facility" | "readPoints" | "comparisons">,
): FacilityPaths {
  const folder = facilityFolder(result.facility.id);
  const page = (name: string) => `${folder}/${name}.html`;
  const ids = result.readPoints.map(({ id }) => id);
  const readPointStem = stemsOf(ids, ids);
  const pairs = roundPairs(result);
  const pairStem = stemsOf(
    pairs.map(keyOfPair),
    pairs.map(({ before, after }) => `${before}-to-${after}`),
  );
  const changesStem = (pair: RoundPair) => pairStem(keyOfPair(pair));
  return {
    folder,
    overview: page("index"),
    rounds: page("rounds"),
    passes: page("passes"),
    inputs: page("inputs"),
    method: page("method"),
    signOffSheet: page("sign-off-sheet"),
    plan: page("plan"),
    aisle: page("aisle"),
    result: `${folder}/result.json`,
    markStyle: `${folder}/mark.css`,
    input: (path) => `${folder}/inputs/${path}`,
    readPoint: (id) => page(`read-points/${readPointStem(id)}`),
    why: (id) => page(`why/${readPointStem(id)}`),
    walkSheet: (id) => page(`walk-sheets/${readPointStem(id)}`),
    walkLog: (id) => `${folder}/walk-sheets/${readPointStem(id)}.csv`,
    walkWorkbook: (id) => `${folder}/walk-sheets/${readPointStem(id)}.xlsx`,
    readPointStem,
    changesStem,
    table: (name) => `${folder}/tables/${name}.csv`,
  };
}

function keyOfPair({ before, after }: RoundPair): string {
  return JSON.stringify([before, after]);
}

/** A name of its own for the file of each key, made from its text. */
function stemsOf(keys: string[], texts: string[]): (key: string) => string {
  const slugs = distinctSlugs(texts);
  const byKey = new Map(keys.map((key, index) => [key, slugs[index] as string]));
  return (key) => {
    const stem = byKey.get(key);
    if (stem === undefined) throw new Error(`No page is planned for ${key}`);
    return stem;
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

/** A pass by the ids that it is known by. */
export interface PassPlace {
  round: string;
  readPoint: string;
  pass: string;
}

type PassAnchors = (place: PassPlace) => string;
const anchorsOf = new WeakMap<Pick<Result, "readPoints">, PassAnchors>();

/** Anchors of the passes page, made once a result. */
export function passAnchors(result: Pick<Result, "readPoints">): PassAnchors {
  const anchors = anchorsOf.get(result) ?? madeAnchors(result);
  anchorsOf.set(result, anchors);
  return anchors;
}

function madeAnchors(result: Pick<Result, "readPoints">): PassAnchors {
  const key = ({ round, readPoint, pass }: PassPlace) => JSON.stringify([round, readPoint, pass]);
  const keys: string[] = [];
  const names: string[] = [];
  for (const point of result.readPoints) {
    for (const round of point.rounds) {
      const stem = `pass-${slug(point.id)}-${slug(round.id)}`;
      for (const pass of round.passList) {
        keys.push(key({ round: round.id, readPoint: point.id, pass: pass.id }));
        names.push(`${stem}-${slug(pass.id)}`);
      }
    }
  }
  const anchors = new Map(distinct(names).map((anchor, i) => [keys[i] as string, anchor]));
  return (place) => anchors.get(key(place)) ?? "passes";
}

/** Anchors of some findings, each on the page of its read point. */
export function findingAnchors(findings: Finding[]): (finding: Finding) => string {
  const names = findings.map(({ readPoint, criterion, group }) => {
    const name = [criterion, ...Object.values(group ?? {})].map(slug).join("-");
    return `${readPoint}\n${name}`;
  });
  const anchors = new Map(
    distinct(names).map((name, i) => [findings[i], `finding-${name.slice(name.lastIndexOf("\n") + 1)}`]),
  );
  return (finding) => anchors.get(finding) ?? "findings";
}

/** The letter a read point carries on the plan: A to Z, then AA, AB ... */
export function planLetter(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : planLetter(Math.floor(index / 26) - 1) + letter;
}
