import { createReadStream } from "node:fs";
import { open, stat } from "node:fs/promises";
import { join } from "node:path";
import { createGunzip } from "node:zlib";
import type { ReaderLogSpec } from "../../model/facility.ts";
import type { FullText } from "../problems/card/problem.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import {
  readerLogClaimedTwice,
  readerLogCutShort,
  readerLogForm,
  readerLogKind,
  readerLogMissing,
  readerLogName,
} from "../problems/reader-log.ts";
import { usualLargeBytes } from "./database/database.ts";
import type { Form, LogText } from "./forms/form.ts";
import { formOf } from "./forms/index.ts";
import { isJson } from "./forms/json.ts";
import { isBlankOrComment, lineEnd, lineEndsIn } from "./forms/lines.ts";
import { filesLike } from "./source/glob.ts";
import { limits, Survey, unreadableFile } from "./source/survey.ts";

/** How a log is read: as a table, as one JSON object a line, as Parquet, or item by item in a form of its own. */
export type LogKind = "delimited" | "json-lines" | "parquet" | "items";

/** A file that an entry of `reader_logs` names. */
export interface LogFile {
  /** Its number, in the order of entries and then of names. */
  index: number;
  /** Relative to the facility's folder, with `/`. */
  path: string;
  /** Where it is on this machine. */
  place: string;
  bytes: number;
  kind: LogKind;
  /** Of a log that is read item by item. */
  form: Form | null;
  zipped: boolean;
  delimiter: string;
  spec: ReaderLogSpec;
  survey: Survey;
}

/** Packed logs and Parquet hold several times their bytes. */
const mostUnpacked = 10;

/** Whether logs hold so few rows that planning a statement takes longer than running it. */
export function areSmall(
  files: readonly Pick<LogFile, "bytes" | "kind" | "zipped">[],
  largeBytes = usualLargeBytes,
): boolean {
  const unpacked = ({ bytes, kind, zipped }: (typeof files)[number]) =>
    zipped || kind === "parquet" ? mostUnpacked * bytes : bytes;
  return files.reduce((sum, file) => sum + unpacked(file), 0) < largeBytes;
}

/** How many files are walked over at once. */
const surveysAtOnce = 4;

/** The files that the entries name, each once. The walks over their bytes have begun. */
export async function findLogs(
  folder: string,
  specs: readonly ReaderLogSpec[],
  problems: ProblemList,
): Promise<LogFile[]> {
  const files: LogFile[] = [];
  const entryOf = new Map<string, number>();
  const lanes: Promise<unknown>[] = [];
  for (const [entry, spec] of specs.entries()) {
    for (const pattern of spec.files) {
      const { paths, refused } = await filesLike(folder, pattern);
      for (const { path, problem } of refused) problems.report({ file: path }, problem);
      if (paths.length + refused.length === 0)
        problems.report({ file: pattern }, readerLogMissing.at(pattern));
      for (const path of paths) {
        const earlier = entryOf.get(path);
        if (earlier === undefined) {
          entryOf.set(path, entry);
          const after = lanes.length < surveysAtOnce ? undefined : lanes.shift();
          const file = await logFile({ path, place: join(folder, path), index: files.length, spec }, after);
          if ("index" in file) files.push(file);
          else problems.report({ file: path }, file);
          lanes.push("index" in file ? file.survey.done : Promise.resolve(after));
        } else if (earlier !== entry)
          problems.report(
            { file: path },
            readerLogClaimedTwice.by({ earlier: earlier + 1, later: entry + 1 }),
          );
      }
    }
  }
  return files;
}

const kinds = new Map<string, LogKind>([
  ["csv", "delimited"],
  ["tsv", "delimited"],
  ["txt", "delimited"],
  ["log", "delimited"],
  ["jsonl", "json-lines"],
  ["ndjson", "json-lines"],
  ["json", "json-lines"],
  ["xml", "items"],
  ["parquet", "parquet"],
]);

/** What the end of a log's name says about it; null where it says nothing. */
export function kindOfName(path: string): { kind: LogKind; zipped: boolean; isTabbed: boolean } | null {
  const ending = /\.([^./]+?)(\.gz)?$/i.exec(path);
  const word = ending?.[1]?.toLowerCase() ?? "";
  const kind = kinds.get(word);
  const zipped = ending?.[2] !== undefined;
  return kind === undefined || (kind === "parquet" && zipped)
    ? null
    : { kind, zipped, isTabbed: word === "tsv" };
}

async function logFile(
  found: Pick<LogFile, "path" | "place" | "index" | "spec">,
  after: Promise<unknown> | undefined,
): Promise<LogFile | FullText> {
  const named = kindOfName(found.path);
  if (named === null) return readerLogKind.unknown(found.path);
  // The database would take such a path for a pattern.
  if (/[*?[\]]/.test(found.place)) return readerLogName.at(found.path);
  const { kind, zipped, isTabbed } = named;
  try {
    const { size: bytes } = await stat(found.place);
    const delimiter = found.spec.delimiter ?? (isTabbed ? "\t" : ",");
    const file = { ...found, bytes, kind, form: null, zipped, delimiter };
    const shown = (await bytesFault(file)) ?? (await formFound(file));
    if ("code" in shown) return shown;
    const survey = surveyOf({ place: found.place, ...shown, zipped }, after);
    // The database would take a part of a packed log that is cut short, and all of one that is endless.
    if (zipped) await survey.done;
    return survey.fault ?? { ...file, ...shown, survey };
  } catch (error) {
    return unreadableFile(error);
  }
}

type Shown = Pick<LogFile, "kind" | "form">;

/** The form that a log shows, where it fits the entry. */
async function formFound(
  file: TextFile & Shown & Pick<LogFile, "bytes" | "spec">,
): Promise<Shown | FullText> {
  const { kind, bytes, spec } = file;
  if (kind === "parquet") return spec.rows === null ? file : readerLogForm.withoutLists("Parquet");
  const shown = await formOfFile(file, spec.rows !== null);
  if (shown.form?.id === "xml" && spec.rows === null) return readerLogForm.withoutRows();
  if (shown.form !== null) return { kind: "items", form: shown.form };
  if (kind === "items" && bytes > 0) return readerLogKind.bytes({ found: "no XML", kind: ".xml" });
  if (spec.rows !== null && bytes > 0) return readerLogForm.withoutLists("a table");
  return shown.isJson ? { kind: "json-lines", form: null } : { kind, form: null };
}

/** Begins the walk over the bytes of a log. */
export function surveyOf(
  { place, kind, form, zipped }: Pick<LogFile, "place" | "kind" | "form" | "zipped">,
  after?: Promise<unknown>,
): Survey {
  const lineKind = form?.hasLines === true ? "json-lines" : kind;
  const mostLineBytes =
    lineKind === "delimited" || lineKind === "json-lines" ? limits.lineBytes[lineKind] : null;
  return new Survey({ place, zipped, mostLineBytes }, after);
}

const formHeadBytes = 1 << 16;
const mostLinesOfForm = 100;

/** The form that the beginning of a text shows: it tells more than the ending of a name. */
async function formOfFile(file: TextFile, hasRows: boolean): Promise<{ form: Form | null; isJson: boolean }> {
  const { bytes } = await headOf(file, formHeadBytes);
  const text = new TextDecoder("utf-8").decode(bytes);
  const lines = text.split(lineEnd, mostLinesOfForm).filter((line) => !isBlankOrComment(line));
  return { form: formOf({ lines, hasRows }), isJson: isJson({ lines }) };
}

const gzipMark = "1f8b";
const parquetMark = "50415231";

/** Compares a file's first and last bytes with its name: text called .gz, say. Null where they agree. */
async function bytesFault({
  place,
  bytes,
  kind,
  zipped,
}: Pick<LogFile, "place" | "bytes" | "kind" | "zipped">): Promise<FullText | null> {
  if (bytes === 0) return null;
  const [first, last] = await endsOf(place, bytes);
  if (zipped) {
    return first.startsWith(gzipMark)
      ? null
      : readerLogKind.bytes({ found: "bytes that are not gzip", kind: ".gz" });
  }
  if (kind === "parquet") {
    if (first !== parquetMark)
      return readerLogKind.bytes({ found: "bytes that are not Parquet", kind: ".parquet" });
    return last === parquetMark ? null : readerLogCutShort.with("a parquet file that is cut short");
  }
  if (first.startsWith(gzipMark)) return readerLogKind.bytes({ found: "a gzip file", kind: "text" });
  return first === parquetMark ? readerLogKind.bytes({ found: "a parquet file", kind: "text" }) : null;
}

/** The first and the last four bytes, in hexadecimal digits. */
async function endsOf(place: string, bytes: number): Promise<[string, string]> {
  const slices = await slicesOf(place, [0, Math.max(0, bytes - 4)], 4);
  return slices.map((slice) => slice.toString("hex")) as [string, string];
}

async function slicesOf(place: string, positions: readonly number[], length: number): Promise<Buffer[]> {
  const file = await open(place);
  try {
    const slices: Buffer[] = [];
    for (const position of positions) {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, position);
      slices.push(buffer.subarray(0, bytesRead));
    }
    return slices;
  } finally {
    await file.close();
  }
}

/**
 * Files with the same bytes as an earlier one that is read in the same way: by number, each with the earlier one's. Only files of one size can
 * be the same, so the hashes of the others need not be waited for.
 */
export async function sameFiles(files: readonly LogFile[]): Promise<Map<number, number>> {
  const bySize = new Map<number, LogFile[]>();
  for (const file of files) {
    const alike = bySize.get(file.bytes);
    if (alike === undefined) bySize.set(file.bytes, [file]);
    else alike.push(file);
  }
  const earlierOf = new Map<number, number>();
  for (const alike of bySize.values()) {
    if (alike.length === 1) continue;
    const firstOf = new Map<string, number>();
    for (const { index, spec, kind, form, zipped, survey } of alike) {
      await survey.done;
      if (survey.fault !== null) continue;
      const key = JSON.stringify([survey.sha256, kind, form?.id, zipped, { ...spec, files: [] }]);
      const first = firstOf.get(key);
      if (first === undefined) firstOf.set(key, index);
      else earlierOf.set(index, first);
    }
  }
  return earlierOf;
}

type TextFile = Pick<LogFile, "place" | "zipped">;

/** The bytes of a file, unpacked. */
export async function* logBytes({ place, zipped }: TextFile): AsyncGenerator<Buffer> {
  const file = createReadStream(place, { highWaterMark: 1 << 18 });
  const bytes = zipped ? file.pipe(createGunzip({ chunkSize: 1 << 18 })) : file;
  // A pipe does not pass faults on.
  if (bytes !== file) file.on("error", (fault) => bytes.destroy(fault));
  try {
    for await (const chunk of bytes) yield chunk as Buffer;
  } finally {
    file.destroy();
  }
}

/** The beginning of a file, unpacked; `isWhole` where that is all of it. */
export async function headOf(file: TextFile, length: number): Promise<{ bytes: Buffer; isWhole: boolean }> {
  const pieces: Buffer[] = [];
  let read = 0;
  if (!file.zipped) {
    pieces.push(...(await slicesOf(file.place, [0], length + 1)));
    read = pieces[0]!.length;
  } else {
    for await (const piece of logBytes(file)) {
      pieces.push(piece);
      read += piece.length;
      if (read > length) break;
    }
  }
  return { bytes: Buffer.concat(pieces).subarray(0, length), isWhole: read <= length };
}

/** A text in pieces that end anywhere, without the byte-order mark. */
async function* textPieces(file: TextFile): AsyncGenerator<string> {
  const decoder = new TextDecoder("utf-8");
  for await (const chunk of logBytes(file)) yield decoder.decode(chunk, { stream: true });
  yield decoder.decode();
}

/** The text of a file, as forms read it. */
export function logText(file: TextFile): LogText {
  return { pieces: () => textPieces(file), stretches: () => textStretches(file) };
}

/** A text in stretches of whole lines, each with the number of its first line, from 1; without the byte-order mark. */
export async function* textStretches(file: TextFile): AsyncGenerator<{ firstLine: number; text: string }> {
  const decoder = new TextDecoder("utf-8");
  let firstLine = 1;
  let rest = "";
  for await (const chunk of logBytes(file)) {
    const text = rest + decoder.decode(chunk, { stream: true });
    // A CR at the very end may be the first half of a line end.
    const end = Math.max(text.lastIndexOf("\n"), text.lastIndexOf("\r", text.length - 2)) + 1;
    rest = text.slice(end);
    if (end === 0) continue;
    const whole = text.slice(0, end);
    yield { firstLine, text: whole };
    const { lf, crlf, cr } = lineEndsIn(whole);
    firstLine += lf + crlf + cr;
  }
  rest += decoder.decode();
  if (rest !== "") yield { firstLine, text: rest };
}

const bytesPerSlice = 1 << 16;
const sliceLength = 1 << 13;
const mostSlices = 128;

/**
 * Whole lines from slices that lie evenly over files: read points are walked one after another, so the beginning of a log does not know all readers
 * and codes. Of a packed file, from its beginning.
 */
export async function sampleLines(files: readonly LogFile[]): Promise<string[]> {
  const lines: string[] = [];
  for (const file of files) {
    const most = Math.max(1, Math.floor(mostSlices / files.length));
    const count = Math.min(most, Math.ceil(file.bytes / bytesPerSlice));
    const positions = Array.from({ length: count }, (_, slice) => Math.floor((file.bytes / count) * slice));
    const slices = file.zipped
      ? [(await headOf(file, most * sliceLength)).bytes]
      : await slicesOf(file.place, positions, sliceLength);
    // The first line of a slice and its last one may be cut.
    for (const slice of slices) lines.push(...slice.toString("utf8").split(lineEnd).slice(1, -1));
  }
  return lines;
}
