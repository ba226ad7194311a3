import { readdir, stat } from "node:fs/promises";
import { join, posix } from "node:path";
import type { ReaderLogSpec } from "../../model/facility.ts";
import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import type { ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import { bytesFault } from "./log-bytes.ts";
import type { LogKind, LogSource } from "./log-source.ts";

/** The files that the entries name, each once, in the order of entries and then of names. */
export async function logSources(
  folder: string,
  specs: readonly ReaderLogSpec[],
  problems: ProblemList,
): Promise<LogSource[]> {
  const sources: LogSource[] = [];
  const entryOf = new Map<string, number>();
  for (const [entry, spec] of specs.entries()) {
    for (const pattern of spec.files) {
      const paths = await matching(folder, pattern);
      if (paths.length === 0) problems.add(pattern, null, missing(pattern));
      for (const path of paths) {
        const earlier = entryOf.get(path);
        if (earlier !== undefined) {
          if (earlier !== entry) problems.add(path, null, claimedTwice(earlier, entry));
          continue;
        }
        entryOf.set(path, entry);
        const source = await described(folder, path, spec, problems);
        if (source !== null) sources.push({ ...source, index: sources.length });
      }
    }
  }
  return sources;
}

/** `*` stands for any run of characters inside one name. */
async function matching(folder: string, pattern: string): Promise<string[]> {
  const parts = posix.normalize(pattern).split("/");
  if (parts.includes("..") || posix.isAbsolute(pattern)) return [];
  let found = [""];
  for (const [depth, part] of parts.entries()) {
    const isLast = depth === parts.length - 1;
    const next: string[] = [];
    for (const base of found) {
      for (const name of await named(join(folder, base), part)) {
        const path = base === "" ? name : `${base}/${name}`;
        const kind = await stat(join(folder, path)).catch(() => null);
        if (isLast ? kind?.isFile() : kind?.isDirectory()) next.push(path);
      }
    }
    found = next;
  }
  return found.sort((a, b) => byNaturalOrder(a, b) || byCodePoint(a, b));
}

async function named(folder: string, part: string): Promise<string[]> {
  if (!part.includes("*")) return [part];
  const pattern = new RegExp(
    `^${part
      .split("*")
      .map((piece) => piece.replace(/[\\^$.|?+()[\]{}]/g, "\\$&"))
      .join(".*")}$`,
    "su",
  );
  const names = await readdir(folder).catch(() => [] as string[]);
  return names.filter((name) => !name.startsWith(".") && pattern.test(name));
}

async function described(
  folder: string,
  path: string,
  spec: ReaderLogSpec,
  problems: ProblemList,
): Promise<LogSource | null> {
  const ending = /\.(csv|tsv|txt|log|jsonl|ndjson|parquet)(\.gz)?$/i.exec(path);
  const kind = kinds.get(ending?.[1]?.toLowerCase() ?? "");
  const zipped = ending?.[2] !== undefined;
  if (kind === undefined || (kind === "parquet" && zipped)) {
    problems.add(path, null, unreadable(path));
    return null;
  }
  const place = join(folder, path);
  if (/[*?[\]]/.test(place)) {
    problems.add(path, null, openName(path));
    return null;
  }
  const isTabbed = ending![1]!.toLowerCase() === "tsv";
  const source: LogSource = {
    index: 0,
    path,
    place,
    bytes: (await stat(place)).size,
    kind,
    zipped,
    delimiter: spec.delimiter ?? (isTabbed ? "\t" : ","),
    spec,
  };
  const fault = await bytesFault(source);
  if (fault === null) return source;
  problems.add(path, null, fault);
  return null;
}

const kinds = new Map<string, LogKind>([
  ["csv", "delimited"],
  ["tsv", "delimited"],
  ["txt", "delimited"],
  ["log", "delimited"],
  ["jsonl", "json-lines"],
  ["ndjson", "json-lines"],
  ["parquet", "parquet"],
]);

const missing = (pattern: string) => ({
  severity: "error" as const,
  code: "reader-log-missing",
  found: `no file ${quoted(pattern)} in the facility's folder`,
  expected: "the reader logs that reader_logs names, inside the facility's folder",
  advice: "Correct the path, or put the log there; * stands for any part of a name.",
});

const claimedTwice = (earlier: number, entry: number) => ({
  severity: "error" as const,
  code: "reader-log-claimed-twice",
  found: `entries ${earlier + 1} and ${entry + 1} of reader_logs both name this file`,
  expected: "each reader log in one entry",
  advice: "Name it in the entry that says how it is written.",
});

const unreadable = (path: string) => ({
  severity: "error" as const,
  code: "reader-log-kind",
  found: `${quoted(path)}`,
  expected: ".csv, .tsv, .txt, .log, .jsonl, .ndjson (also with .gz behind it) or .parquet",
  advice: "Rename the file after what is in it, or export it as CSV.",
});

const openName = (path: string) => ({
  severity: "error" as const,
  code: "reader-log-name",
  found: `${quoted(path)}, with a mark in the path that stands for other names`,
  expected: "a path without *, ?, [ and ]",
  advice: "Rename the file or the folder it is in.",
});
