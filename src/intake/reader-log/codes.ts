import { canonicalCode } from "../../codes/canonical-code.ts";
import type { EpcForm } from "../../model/facility.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { readerLogCodeRemark } from "../problems/reader-log.ts";
import type { LogDatabase } from "./database/database.ts";
import { createTags, type TagCounts, writtenAntennas, writtenCodes } from "./statements.ts";

/** A way of writing a code that does not give one. */
export interface BadCode {
  text: string;
  form: EpcForm;
  expected: string;
  advice: string;
}

/** What the texts of the dictionary mean, in the order in which it leaves the database. */
export interface Names {
  /** Canonical codes, by code point. */
  codes: string[];
  /** By natural order. */
  antennas: string[];
  /** How many there are of both. */
  counts: TagCounts;
  badCodes: BadCode[];
}

/**
 * Brings each way of writing a code to its canonical form, once for all the rows that carry it, and fills the table `tags`.
 *
 * @param areUnique whether no two entries of the dictionary are written in the same way
 */
export async function rankNames(
  database: LogDatabase,
  { areUnique, problems }: { areUnique: boolean; problems: ProblemList },
): Promise<Names> {
  const { codes, badCodes } = await rankCodes(database, problems);
  const antennas = await rankAntennas(database);
  const counts = { codes: codes.length, antennas: antennas.length };
  await database.run(createTags(counts, areUnique));
  return { codes, antennas, counts, badCodes };
}

async function rankCodes(
  database: LogDatabase,
  problems: ProblemList,
): Promise<Pick<Names, "codes" | "badCodes">> {
  const written = await database.rows<{ text: string; form: EpcForm }>(writtenCodes);
  const badCodes: BadCode[] = [];
  const read: { text: string; form: EpcForm; code: string }[] = [];
  for (const { text, form } of written) {
    const found = canonicalCode(text, form);
    if (found.kind === "refused") {
      badCodes.push({ text, form, expected: found.expected, advice: found.advice });
      continue;
    }
    read.push({ text, form, code: found.code });
    for (const remark of found.kind === "hex" ? found.remarks : [])
      problems.report({ file: null }, readerLogCodeRemark.with({ code: found.code, text: remark.text }));
  }
  const codes = [...new Set(read.map(({ code }) => code))].sort(byCodePoint);
  const rank = rankOf(codes);
  await database.fill(
    "codes",
    read.map(({ text, form, code }) => [text, form, rank.get(code)!]),
  );
  return { codes, badCodes };
}

async function rankAntennas(database: LogDatabase): Promise<string[]> {
  const written = await database.rows<{ text: string }>(writtenAntennas);
  const antennas = [...new Set(written.map(({ text }) => text.trim()))].filter((name) => name !== "");
  antennas.sort(stableBy(byNaturalOrder, byCodePoint));
  const rank = rankOf(antennas);
  await database.fill(
    "antennas",
    written.map(({ text }) => [text, rank.get(text.trim()) ?? -1]),
  );
  return antennas;
}

function rankOf(texts: readonly string[]): Map<string, number> {
  return new Map(texts.map((text, index) => [text, index]));
}
