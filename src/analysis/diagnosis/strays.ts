import { max, median } from "simple-statistics";
import { codeUri } from "../../codes/code-uri.ts";
import type { Strays } from "../../model/diagnosis/why.ts";
import { counted } from "../../model/number-words.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import { type IdleTag, noRssi, Role } from "../../model/pass-log.ts";
import { clopperPearsonTails } from "../../statistics/clopper-pearson.ts";
import { rowsByPass } from "./hearings.ts";
import { heardBeside, type KnownPlace, presentedAt } from "./known-codes.ts";
import type { Candidate, DiagnosedPoint, Source } from "./misses/candidate.ts";

/** Strays of one source in fewer passes than this share are nothing to look for: common practice, no source. */
const toleratedShare = 0.01;
const mostListed = 100;

type Stray = Strays["tags"][number];
type SourceOfStrays = Strays["bySource"][number];

/** Codes read in passes that did not present them, and where else the facility's own logs know them. */
export const strays: Source<Strays> = (point) => {
  const found = straysInPasses(point);
  if (found === null) return { candidates: [], details: () => null };
  const { tags, passesOf, ofPasses } = found;
  const bySource = sourcesOf(tags, passesOf);
  const { readPoints } = point.walked.facility;
  const nameOf = (id: string | null) => readPoints.find((one) => one.id === id)?.name ?? id ?? "";
  const passes = new Set([...passesOf.values()].flatMap((own) => [...own])).size;
  return {
    candidates: bySource.map((source) => candidateOf(source, ofPasses, nameOf)),
    details: () => ({
      passes,
      ofPasses,
      minutes: null,
      bySource,
      tags: tags.slice(0, mostListed),
      leftOut: Math.max(0, tags.length - mostListed),
    }),
  };
};

/** The same of codes heard between passes. */
export const idleTags: Source<Strays> = ({ walked, place }) => {
  const idle = walked.log.heard?.idle.find(
    ({ readPoint, round }) => readPoint === place.readPoint && round === place.round,
  );
  return {
    candidates: [],
    details: () => {
      if (idle === undefined || idle.tags.length === 0) return null;
      const known = idle.tags.map((one) => {
        const number = numberOf(walked.log.tags, one.tag);
        return number === -1 ? [] : presentedAt(walked, number);
      });
      const sourceOf = sourceFinder(known, place.readPoint);
      const tags = idle.tags
        .map((one, i): Stray => ({ ...idleTag(one, known[i]!), ...sourceOf(known[i]!) }))
        .sort(mostHeardFirst);
      return {
        passes: null,
        ofPasses: null,
        minutes: idle.minutes,
        bySource: sourcesOf(tags, null),
        tags: tags.slice(0, mostListed),
        leftOut: Math.max(0, tags.length - mostListed),
      };
    },
  };
};

const mostHeardFirst = stableBy<Stray>(
  (a, b) => (b.passes ?? 0) - (a.passes ?? 0),
  (a, b) => (b.reads ?? 0) - (a.reads ?? 0),
  (a, b) => byCodePoint(a.tag, b.tag),
);

/** Null where no pass recorded a stray by name. */
function straysInPasses(
  point: DiagnosedPoint,
): { tags: Stray[]; passesOf: Map<Stray, Set<number>>; ofPasses: number } | null {
  const { walked, place } = point;
  const { log, index } = walked;
  const { rows } = log;
  const recorded = new Set(
    [...point.passes].filter((pass) => log.passes[pass]!.straysRecorded && log.passes[pass]!.namesTags),
  );
  if (recorded.size === 0) return null;
  const read = index
    .rowsAt(place)
    .filter(
      (row) =>
        rows.tag[row] !== -1 &&
        (rows.role[row] === Role.stray || rows.role[row] === Role.notPresented) &&
        rows.tagsRead[row]! > 0 &&
        recorded.has(rows.pass[row]!),
    );
  const rowsOf = rowsByPass(rows.tag, read);
  if (rowsOf.size === 0) return null;
  const passesOf = new Map<Stray, Set<number>>();
  const known = new Map(
    [...rowsOf.keys()].map((tag) => [
      tag,
      [...presentedAt(walked, tag), ...heardBeside(walked, place.readPoint, tag)],
    ]),
  );
  const sourceOf = sourceFinder([...known.values()], place.readPoint);
  for (const [tag, own] of rowsOf) {
    const where = known.get(tag)!;
    const heard = own.flatMap((row) => heardEntries(point, row));
    const levels = own.map((row) => rows.rssiDbm[row]!).filter((level) => level !== noRssi);
    const reads = own.reduce((sum, row) => sum + rows.readCounts[row]!, 0);
    const antennas = own.flatMap((row) =>
      rows.antenna[row] === -1 ? [] : [rows.antennas[rows.antenna[row]!]!],
    );
    const stray: Stray = {
      tag: log.tags[tag]!,
      uri: codeUri(log.tags[tag]!),
      ...sourceOf(where),
      where,
      passes: own.length,
      reads: reads === 0 ? null : reads,
      strongestDbm: levels.length === 0 ? null : max(levels),
      antennas: [...new Set([...antennas, ...heard.flatMap(({ antenna }) => antenna ?? [])])].sort(
        byNaturalOrder,
      ),
      firstMs: heard.length === 0 ? null : median(heard.map(({ firstMs }) => firstMs)),
    };
    passesOf.set(stray, new Set(own.map((row) => rows.pass[row]!)));
  }
  return { tags: [...passesOf.keys()].sort(mostHeardFirst), passesOf, ofPasses: recorded.size };
}

/** What the reader's log has of a row's tag in its pass. */
function heardEntries(
  { walked: { log, index } }: DiagnosedPoint,
  row: number,
): { antenna: string | null; firstMs: number }[] {
  const { heard, rows } = log;
  const pass = rows.pass[row]!;
  if (heard === null || log.passes[pass]!.readsFrom !== "reader-log") return [];
  const [from, to] = index.heardIn(pass);
  const found: { antenna: string | null; firstMs: number }[] = [];
  const tag = rows.tag[row]!;
  const first = firstAtLeast({ from, to }, (entry) => heard.tag[entry]! - tag);
  for (let entry = first; entry < to && heard.tag[entry] === tag; entry += 1) {
    const antenna = heard.antennas[heard.antenna[entry]!] ?? null;
    found.push({ antenna, firstMs: heard.firstMs[entry]! });
  }
  return found;
}

function idleTag(
  { tag, reads, rssiDbm, antennas }: IdleTag,
  where: KnownPlace[],
): Omit<Stray, "source" | "readPoint"> {
  return {
    tag,
    uri: codeUri(tag),
    where,
    passes: null,
    reads,
    strongestDbm: rssiDbm === noRssi ? null : rssiDbm,
    antennas,
    firstMs: null,
  };
}

/** Tags of a finished log stand by code point. */
function numberOf(tags: readonly string[], tag: string): number {
  const first = firstAtLeast({ from: 0, to: tags.length }, (number) => byCodePoint(tags[number]!, tag));
  return tags[first] === tag ? first : -1;
}

/** The first of some sorted places that does not come before what is looked for; their end where all do. */
function firstAtLeast({ from, to }: { from: number; to: number }, order: (place: number) => number): number {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (order(middle) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Says where codes come from: of this job where a load of the read point itself presents it, else of a neighbour whose load does, else a
 * stranger. Of several neighbours it is the one whose loads know most of the codes that were heard.
 */
function sourceFinder(
  heard: readonly (readonly KnownPlace[])[],
  readPoint: string,
): (where: readonly KnownPlace[]) => Pick<Stray, "source" | "readPoint"> {
  const loadsOf = (where: readonly KnownPlace[]) => [
    ...new Set(where.filter(({ minute }) => minute === null).map((load) => load.readPoint)),
  ];
  const codes = new Map<string, number>();
  for (const where of heard) for (const load of loadsOf(where)) codes.set(load, (codes.get(load) ?? 0) + 1);
  return (where) => {
    const loads = loadsOf(where);
    if (loads.includes(readPoint)) return { source: "this-job", readPoint };
    // The first of equals is the one walked first.
    const neighbour = loads.sort((a, b) => codes.get(b)! - codes.get(a)!)[0] ?? null;
    return { source: neighbour === null ? "stranger" : "neighbour", readPoint: neighbour };
  };
}

const sourceOrder = ["neighbour", "this-job", "stranger"];

function sourcesOf(
  tags: readonly Stray[],
  passesOf: ReadonlyMap<Stray, Set<number>> | null,
): SourceOfStrays[] {
  const groups = new Map<string, Stray[]>();
  for (const stray of tags) {
    const key = `${stray.source} ${stray.readPoint}`;
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [stray]);
    else own.push(stray);
  }
  const sum = (own: readonly Stray[]) =>
    own.every(({ reads }) => reads === null)
      ? null
      : own.reduce((total, { reads }) => total + (reads ?? 0), 0);
  return [...groups.values()]
    .map(
      (own): SourceOfStrays => ({
        source: own[0]!.source,
        readPoint: own[0]!.readPoint,
        tags: own.length,
        passes: passesOf === null ? null : new Set(own.flatMap((stray) => [...passesOf.get(stray)!])).size,
        reads: sum(own),
      }),
    )
    .sort(
      stableBy(
        (a, b) => (b.passes ?? 0) - (a.passes ?? 0),
        (a, b) => b.tags - a.tags,
        (a, b) => sourceOrder.indexOf(a.source) - sourceOrder.indexOf(b.source),
        (a, b) => byCodePoint(a.readPoint ?? "", b.readPoint ?? ""),
      ),
    );
}

/** Strays explain no miss: they are weighed by how often they come. */
function candidateOf(
  { source, readPoint, tags, passes }: SourceOfStrays,
  ofPasses: number,
  nameOf: (readPoint: string | null) => string,
): Candidate {
  const often = `were read in ${passes} of ${counted(ofPasses, "pass", "passes")} that did not present them`;
  const codes = counted(tags, "code", "codes");
  const sentences = {
    neighbour: `${codes} of the loads of ${nameOf(readPoint)} ${often}. Shield, turn or weaken what looks towards it, or keep its loads away.`,
    "this-job": `${codes} of this read point's own loads ${often}. Keep waiting loads out of reach during passes.`,
    stranger: `${codes} that no load of this facility presents ${often}. Look for tagged goods near by.`,
  };
  const subject = source === "neighbour" ? { source, readPoint: readPoint! } : { source };
  return {
    kind: "stray-source",
    subject,
    p: clopperPearsonTails(passes! / ofPasses, ofPasses, toleratedShare).asMany,
    counts: null,
    ratio: null,
    covers: null,
    explains: 0,
    sentence: tags === 1 ? singular(sentences[source]) : sentences[source],
  };
}

function singular(sentence: string): string {
  return sentence.replace(" were read in ", " was read in ").replace(" present them", " present it");
}
