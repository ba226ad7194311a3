import { canonicalCode } from "../../codes/canonical-code.ts";
import type { EpcForm } from "../../model/facility.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import type { LogDatabase } from "./log-database.ts";

/** A way of writing a code that gives none. */
export interface BadCode {
  text: string;
  form: EpcForm;
  expected: string;
  advice: string;
}

/** A code that is used, with something to tell. */
interface CodeRemark {
  code: string;
  text: string;
}

/** What the voices say, in the order in which it leaves the database. */
export interface CodeBook {
  /** By code point. */
  codes: string[];
  /** By natural order. */
  antennas: string[];
  bad: BadCode[];
  remarks: CodeRemark[];
}

/**
 * Brings each way of writing a code to its canonical form, once for all the rows that carry it. The voices that count are left in
 * the table `used`: with the places of code and antenna in their orders (-1 for no antenna), one number for both (`tag`), and as
 * `twin` the first voice that is written in the same way.
 */
export async function bookCodes(database: LogDatabase): Promise<CodeBook> {
  const { codes, bad, remarks } = await rankCodes(database);
  const antennas = await rankAntennas(database);
  await database.run(`CREATE TABLE used AS SELECT voices.id, file, point::INTEGER AS point,
      code_rank.rank::INTEGER AS code, antenna_rank.rank::INTEGER AS antenna,
      (dense_rank() OVER (ORDER BY code_rank.rank, antenna_rank.rank))::INTEGER AS tag,
      min(voices.id) OVER (PARTITION BY scope, voices.form, reader, epc, voices.antenna) AS twin
    FROM voices JOIN code_rank ON code_rank.text = epc AND code_rank.form = voices.form
    JOIN antenna_rank ON antenna_rank.text = voices.antenna WHERE point IS NOT NULL`);
  return { codes, antennas, bad, remarks };
}

async function rankCodes(database: LogDatabase): Promise<Omit<CodeBook, "antennas">> {
  const written = await database.rows<{ text: string; form: EpcForm }>(
    "SELECT DISTINCT epc AS text, form FROM voices ORDER BY text, form",
  );
  const bad: BadCode[] = [];
  const remarks: CodeRemark[] = [];
  const read: { text: string; form: EpcForm; code: string }[] = [];
  for (const { text, form } of written) {
    const found = canonicalCode(text, form);
    if (found.kind === "refused") {
      bad.push({ text, form, expected: found.expected, advice: found.advice });
      continue;
    }
    read.push({ text, form, code: found.code });
    if (found.kind === "hex")
      for (const remark of found.remarks) remarks.push({ code: found.code, text: remark.text });
  }
  const codes = [...new Set(read.map(({ code }) => code))].sort(byCodePoint);
  const rank = new Map(codes.map((code, index) => [code, index]));
  await database.run("CREATE TABLE code_rank (text VARCHAR, form VARCHAR, rank BIGINT)");
  await database.fill(
    "code_rank",
    read.map(({ text, form, code }) => [text, form, rank.get(code)!]),
  );
  return { codes, bad, remarks };
}

async function rankAntennas(database: LogDatabase): Promise<string[]> {
  const written = await database.rows<{ text: string }>("SELECT DISTINCT antenna AS text FROM voices");
  const names = [...new Set(written.map(({ text }) => text.trim()))].filter((name) => name !== "");
  names.sort(stableBy(byNaturalOrder, byCodePoint));
  const rank = new Map(names.map((name, index) => [name, index]));
  await database.run("CREATE TABLE antenna_rank (text VARCHAR, rank BIGINT)");
  await database.fill(
    "antenna_rank",
    written.map(({ text }) => [text, rank.get(text.trim()) ?? -1]),
  );
  return names;
}
