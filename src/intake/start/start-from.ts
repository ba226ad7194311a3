import { basename } from "node:path";
import type { Measure } from "../../measures/measure.ts";
import type { Condition, Facility } from "../../model/facility.ts";
import { counted } from "../../model/number-words.ts";
import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import { readFacilityYaml } from "../facility/facility.ts";
import { copiesAmong } from "../pass-log/copies.ts";
import { type FacilityLogs, readLogs } from "../pass-log/read.ts";
import { folded, listing, nearMiss, printable, quoted } from "../problems/card/wording.ts";
import { dateOrderUnclear, timeImpossible } from "../problems/pass-log.ts";
import { ProblemList } from "../problems/problem-list.ts";
import { entryText } from "../reader-log/describe/entry.ts";
import { conditionOf, emptyColumn, type FoundColumn, labelOf, mergedColumns } from "./columns-found.ts";
import { emptyLog, exampleStart, proposedCriteria } from "./example-start.ts";
import { type FacilityStart, facilityText } from "./facility-text.ts";
import { type GivenFile, recognise } from "./given-file.ts";

/** What is written of the files that somebody starts from. */
export interface StartFromFiles {
  /** The text of facility.yaml. */
  yaml: string;
  /** Files to copy, each to its place in the facility's folder, with `/`. */
  copies: { from: string; to: string; what: string }[];
  /** What nobody recognised, and what to do about it. */
  notTaken: { path: string; why: string }[];
  /** What was found, in sentences. */
  found: string[];
  /** What a person has to look at, in sentences. */
  remaining: string[];
  /** The text of an empty pass log, where no log was given; null where one was. */
  emptyLog: string | null;
}

type Kind = GivenFile["kind"];
type Of<K extends Kind> = Extract<GivenFile, { kind: K }>;

/**
 * Recognises files and writes a facility.yaml of what is in them. Reads only.
 *
 * @param timeZone IANA name, for times without an offset
 */
export async function startFrom(paths: readonly string[], timeZone: string): Promise<StartFromFiles> {
  const given: GivenFile[] = [];
  const copies = await copiesAmong("", paths);
  for (const path of paths)
    if (!copies.has(path)) given.push(...(await recognise(path).catch((fault) => unreadable(path, fault))));
  const of = <K extends Kind>(kind: K) => given.filter((file): file is Of<K> => file.kind === kind);
  const logs = of("pass log");
  const manifests = of("manifest");
  const readerLogs = of("reader log");
  const places = placesOf(logs, manifests, readerLogs);
  const conditions = conditionsIn(logs, manifests);
  const pointIds = [...new Set(logs.flatMap(({ readPoints }) => [...readPoints.keys()]))].sort(
    byNaturalOrder,
  );
  const entries = readerLogs
    .map((file) => {
      const path = places.get(file)!;
      const entry = entryText(file.log, { path, isGuess: false, readPoints: pointIds });
      return remarkLines(file) + entry.replace(/^reader_logs:\n/, "");
    })
    .join("");
  const roundIds = [...new Set(logs.flatMap(({ rounds }) => [...rounds.keys()]))];
  const start: FacilityStart = {
    ...exampleStart(timeZone),
    rounds: (roundIds.length === 0 ? ["as-found"] : roundIds).map((id) => ({ id, date: null })),
    readPoints: (pointIds.length === 0 ? pointsOf(entries) : pointIds).map((id) => ({
      id,
      name: labelOf(id),
      kind: null,
    })),
    conditions,
    readerLogs: entries,
    manifest: manifests.length === 1 ? stemOf(places.get(manifests[0]!)!) : null,
    sheets: sheetsBy([...logs, ...manifests], (file) => places.get(file)),
    isFound: true,
  };
  const read = await readAgain(start, given);
  const isCounted = ({ log }: Measure) =>
    logs.length === 0 ||
    read.logs.passes.some(
      ({ straysRecorded }) => log.enters?.({ straysRecorded, isFilled: () => true }, {}) ?? true,
    );
  const whole: FacilityStart = {
    ...start,
    dateOrder: read.dateOrder,
    rounds: datedRounds(start.rounds, read.logs),
    criteria: proposedCriteria(isCounted),
  };
  return {
    yaml: facilityText(whole),
    copies: [...new Set(places.values())].map((to) => {
      const files = [...places.keys()].filter((file) => places.get(file) === to);
      return { from: files[0]!.path, to, what: files.map(whatOf).join(", ") };
    }),
    notTaken: [
      ...of("not recognised").map(({ path, sheet, why }) => ({
        path: sheet === null ? path : `${path}, sheet ${sheet}`,
        why,
      })),
      ...[...copies].map(([path, of]) => ({
        path,
        why: `It is a copy of ${of}, byte for byte, which was taken.`,
      })),
    ],
    found: foundSentences(whole),
    remaining: [
      ...missingParts(logs, manifests, readerLogs.length),
      ...placelessReaders(whole),
      ...unlikePairs(whole),
    ],
    emptyLog: logs.length === 0 ? emptyLog : null,
  };
}

/** A file that the system does not hand out is no reason to take none of the others. */
function unreadable(path: string, fault: NodeJS.ErrnoException): GivenFile[] {
  if (fault.syscall === undefined) throw fault;
  const why = `It cannot be read (${fault.code ?? "fault"}). Make it readable, or leave it out.`;
  return [{ path, name: basename(path), sheet: null, kind: "not recognised", why }];
}

/** Where each goes: the sheets of a workbook that are logs stay together, and each that is a load becomes a manifest. */
function placesOf(
  logs: readonly Of<"pass log">[],
  manifests: readonly Of<"manifest">[],
  readerLogs: readonly Of<"reader log">[],
): Map<GivenFile, string> {
  const names = new Names();
  const places = new Map<GivenFile, string>();
  for (const log of logs) {
    const same = logs.find((other) => other.path === log.path && places.has(other));
    places.set(log, same === undefined ? names.free(`passes/${log.name}`) : places.get(same)!);
  }
  for (const load of manifests) places.set(load, names.free(`manifests/${nameInLogs(load, logs)}`));
  for (const log of readerLogs) places.set(log, names.free(`reads/${log.name}`));
  return places;
}

/** The sheets to read, by path, of workbooks that have several. */
function sheetsBy(
  files: readonly GivenFile[],
  pathOf: (file: GivenFile) => string | undefined,
): Record<string, string[]> {
  const sheets: Record<string, string[]> = {};
  for (const file of files) {
    const path = pathOf(file);
    if (path !== undefined && file.sheet !== null) sheets[path] = [...(sheets[path] ?? []), file.sheet];
  }
  return sheets;
}

/** Names that are not taken yet: two files of one name from two folders get different ones. */
class Names {
  readonly #taken = new Set<string>();

  free(path: string): string {
    const [, stem, ending] = /^(.*?)((?:\.[^./]*){0,2})$/.exec(path)!;
    let name = path;
    // Some file systems take names for the same that differ by case only.
    for (let i = 2; this.#taken.has(name.toLowerCase()); i += 1) name = `${stem}-${i}${ending}`;
    this.#taken.add(name.toLowerCase());
    return name;
  }
}

/**
 * What a load's file is called: as it is, or as the logs name the load where its own name or that of its sheet differs from that by
 * case and blanks only. Further sheets of a workbook go by the sheet.
 */
function nameInLogs({ name, sheet }: Of<"manifest">, logs: readonly Of<"pass log">[]): string {
  const [, stem = name, ending = ""] = /^(.*?)(\.[^.]*)?$/.exec(name) ?? [];
  const loads = logs.flatMap(({ manifests }) => [...manifests]).filter((load) => !/[/\\]/.test(load));
  const named = (own: string) => loads.find((load) => folded(load) === folded(own));
  const meant = (sheet === null ? undefined : named(sheet)) ?? named(stem);
  return meant === undefined ? name : `${meant}${ending}`;
}

function stemOf(path: string): string {
  return path.replace(/^.*\//, "").replace(/\.[^.]*$/, "");
}

/** Columns of logs and manifests that can be conditions, in the order in which they were met. */
function conditionsIn(logs: readonly Of<"pass log">[], manifests: readonly Of<"manifest">[]): Condition[] {
  const inLogs = byName(logs.flatMap(({ columns }) => columns));
  const inManifests = byName(manifests.flatMap(({ columns }) => columns));
  // A pass that walks a load would have what stands in both twice.
  const ofLoads = byName(logs.flatMap((log) => (log.manifests.size === 0 ? [] : log.columns)));
  const rows = [...logs.map(({ passes }) => passes), ...manifests.map(({ tags }) => tags)];
  const most = rows.reduce((sum, own) => sum + own, 0);
  return [...byName([...inLogs.values(), ...inManifests.values()])].flatMap(([key, column]) => {
    const isTwice = inManifests.has(key) && (ofLoads.get(key)?.filled ?? 0) > 0;
    const condition = isTwice ? null : conditionOf(column, most);
    return condition === null ? [] : [condition];
  });
}

function byName(columns: readonly FoundColumn[]): Map<string, FoundColumn> {
  const merged = new Map<string, FoundColumn>();
  for (const column of columns) {
    const key = folded(column.name);
    merged.set(key, mergedColumns(merged.get(key) ?? emptyColumn(column.name), column));
  }
  return merged;
}

/** The read points that entries name, where no pass log names any. */
function pointsOf(readerLogs: string): string[] {
  const facility = draftOf({ ...exampleStart("UTC"), readerLogs });
  const ids = facility.readerLogs.flatMap(({ readPoint }) =>
    readPoint.kind === "fixed" ? [readPoint.readPoint] : Object.values(readPoint.values),
  );
  return ids.length === 0 ? ["dock-1"] : [...new Set(ids)].sort(byNaturalOrder);
}

/** Reads the files as `check` will, against what is known by now: to learn when the rounds were walked, and which dates begin with the day. */
async function readAgain(
  start: FacilityStart,
  given: readonly GivenFile[],
): Promise<{ logs: FacilityLogs; dateOrder: FacilityStart["dateOrder"] }> {
  const paths = (kind: Kind) => {
    const files = new Map(given.filter((file) => file.kind === kind).map(({ path, name }) => [path, name]));
    return [...files].map(([path, name]) => ({ path, name: stemOf(name) }));
  };
  const logs = given.filter(({ kind }) => kind === "pass log");
  const sheets = sheetsBy(logs, ({ path }) => path);
  const folder = { folder: "", manifests: paths("manifest"), logs: paths("pass log") };
  const reading = async (dateOrder: FacilityStart["dateOrder"]) => {
    const problems = new ProblemList(null);
    const facility = draftOf({ ...start, dateOrder, sheets });
    const logs = await readLogs(
      { ...folder, facility, hasReaderLogs: true, isFacilityKnown: true },
      problems,
    );
    return { logs, dateOrder, codes: new Set(problems.sorted(() => null).map(({ code }) => code)) };
  };
  const read = await reading(null);
  if (!read.codes.has(dateOrderUnclear.code)) return read;
  // One file alone may leave it open; in all of them together there may be dates that exist in one order only.
  const both = [await reading("day-first"), await reading("month-first")];
  const [only, ...others] = both.filter(({ codes }) => !codes.has(timeImpossible.code));
  return only !== undefined && others.length === 0 ? only : read;
}

/** Each round with the day of its first pass, earliest first; those without a time keep their order behind. */
function datedRounds(rounds: FacilityStart["rounds"], { facility, passes }: FacilityLogs) {
  const dates = new Map<string, string>();
  for (const { round, startedAt } of passes) {
    const id = facility.rounds[round]?.id;
    const date = startedAt?.time.local.slice(0, 10);
    if (id === undefined || date === undefined) continue;
    const known = dates.get(id);
    if (known === undefined || date < known) dates.set(id, date);
  }
  return rounds
    .map(({ id }) => ({ id, date: dates.get(id) ?? null }))
    .sort((a, b) => byCodePoint(a.date ?? "9999", b.date ?? "9999"));
}

/** What `describe` says is worth knowing of a reader log, as comments above its entry. */
function remarkLines({ log: { remarks } }: Of<"reader log">): string {
  return remarks.map((remark) => `  # Worth knowing: ${printable(remark)}\n`).join("");
}

function whatOf(file: GivenFile): string {
  return file.sheet === null ? kindOf(file) : `sheet ${file.sheet}: ${kindOf(file)}`;
}

function kindOf(file: GivenFile): string {
  if (file.kind === "pass log") return `pass log (${file.form}), ${counted(file.passes, "pass", "passes")}`;
  if (file.kind === "manifest") return `manifest, ${counted(file.tags, "tag", "tags")}`;
  if (file.kind === "reader log") return `reader log, ${counted(file.log.read?.rows ?? 0, "row", "rows")}`;
  return file.kind;
}

function foundSentences({ rounds, readPoints, conditions, dateOrder }: FacilityStart): string[] {
  const ids = (list: readonly { id: string }[]) =>
    listing(
      list.map(({ id }) => id),
      12,
    );
  const named = conditions.map(({ column, bands }) =>
    bands === null ? quoted(column) : `${quoted(column)} in bands from ${bands[0]} to ${bands.at(-1)}`,
  );
  return [
    `Rounds: ${ids(rounds)}; the last is judged. Read points: ${ids(readPoints)}.`,
    named.length === 0 ? "No column is a condition." : `Conditions: ${named.join(", ")}.`,
    ...(dateOrder === null ? [] : [`Dates are taken to be ${dateOrder}, since some of them exist only so.`]),
  ];
}

/** Files that the given ones speak of and that were not given. */
function missingParts(
  logs: readonly Of<"pass log">[],
  manifests: readonly Of<"manifest">[],
  readerLogs: number,
): string[] {
  const known = new Set(manifests.map((file) => folded(stemOf(nameInLogs(file, logs)))));
  const missing = [...new Set(logs.flatMap((log) => [...log.manifests]))].filter(
    (load) => !known.has(folded(load)),
  );
  const timed = logs.filter(({ isTimed }) => isTimed).map(({ name }) => name);
  return [
    ...(missing.length === 0
      ? []
      : [
          `The logs name ${listing(missing)}, and no such manifest was given: put it into manifests/, one row a tag.`,
        ]),
    ...(timed.length === 0 || readerLogs > 0
      ? []
      : [
          `${listing(timed)} does not say which tags were read, and no reader log was given: put it into reads/, run \`proofwalk describe\` on it and paste the entry, or add the column missed_tags.`,
        ]),
  ];
}

/** Readers of which neither a name nor a single read point tells where they stand. */
function placelessReaders(start: FacilityStart): string[] {
  const known = new Set(start.readPoints.map(({ id }) => id));
  const facility = draftOf(start);
  const placeless = facility.readerLogs.flatMap(({ files, readPoint }) =>
    readPoint.kind === "fixed"
      ? known.has(readPoint.readPoint)
        ? []
        : files
      : Object.entries(readPoint.values).flatMap(([reader, id]) => (known.has(id) ? [] : [reader])),
  );
  const names = [...new Set(placeless)];
  if (names.length === 0) return [];
  return [
    `Where ${listing(names)} stand${names.length === 1 ? "s" : ""} is not known: put the id of the read point into reader_logs in facility.yaml, or take the line out where it is none of these.`,
  ];
}

/** The facility that a text describes, as far as it is known by now. */
function draftOf(start: FacilityStart): Facility {
  return readFacilityYaml("draft", facilityText(start), new ProblemList(null))!.facility;
}

/** Ids that differ by a slip of the pen: one of them may be meant as the other. */
function unlikePairs({ rounds, readPoints }: FacilityStart): string[] {
  return [rounds, readPoints].flatMap((list) => {
    const ids = list.map(({ id }) => id);
    return ids.flatMap((id, i) => {
      const near = nearMiss(id, ids.slice(i + 1));
      const isNumbered = near !== null && folded(near) !== folded(id) && unnumbered(near) === unnumbered(id);
      const is = list === rounds ? "rounds" : "read points";
      return near === null || isNumbered
        ? []
        : [
            `${quoted(id)} and ${quoted(near)} are two ${is} in the logs: if they are one, correct the logs and remove the other from facility.yaml.`,
          ];
    });
  });
}

/** What is left without what tells alike places apart: the numbers of dock-1 and dock-2, the letters of door-a and door-b. */
function unnumbered(id: string): string {
  return id
    .toLowerCase()
    .replace(/\d+/g, "")
    .replace(/\b[a-z]\b/g, "")
    .replace(/[^a-z]+/g, "-");
}
