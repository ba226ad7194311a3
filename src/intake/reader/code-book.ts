import { canonicalCode } from "../../analysis/codes/canonical-code.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../analysis/order.ts";
import type { LogDatabase } from "./log-database.ts";
import type { EpcForm } from "./reader-log.ts";

/** A way of writing a code that gives none. */
export interface BadCode {
  id: number;
  text: string;
  scope: EpcForm;
  expected: string;
  advice: string;
}

/** A code that is used, with something to tell. */
export interface CodeRemark {
  code: string;
  text: string;
}

/**
 * Brings each way of writing a code to its canonical form, once for all the rows that carry it, and leaves the form's place in
 * the order of codes in the table `code_rank`.
 */
export async function rankCodes(
  database: LogDatabase,
): Promise<{ codes: string[]; bad: BadCode[]; remarks: CodeRemark[] }> {
  const written = await database.rows<{ id: number; text: string; scope: EpcForm }>(
    "SELECT id, text, scope FROM codes ORDER BY text, scope",
  );
  const bad: BadCode[] = [];
  const remarks: CodeRemark[] = [];
  const codeOf = new Map<number, string>();
  for (const { id, text, scope } of written) {
    const found = canonicalCode(text, scope);
    if (found.kind === "refused") {
      bad.push({ id, text, scope, expected: found.expected, advice: found.advice });
      continue;
    }
    codeOf.set(id, found.code);
    if (found.kind === "hex")
      for (const remark of found.remarks) remarks.push({ code: found.code, text: remark.text });
  }
  const codes = [...new Set(codeOf.values())].sort(byCodePoint);
  const rank = new Map(codes.map((code, index) => [code, index]));
  await database.run("CREATE TABLE code_rank (id BIGINT, rank BIGINT)");
  await database.fill(
    "code_rank",
    [...codeOf].map(([id, code]) => [id, rank.get(code)!]),
  );
  return { codes, bad, remarks };
}

/** The same for antennas: their names by natural order, -1 for none. */
export async function rankAntennas(database: LogDatabase): Promise<string[]> {
  const written = await database.rows<{ id: number; text: string }>("SELECT id, text FROM antennas");
  const names = [...new Set(written.map(({ text }) => text.trim()))].filter((name) => name !== "");
  names.sort(stableBy(byNaturalOrder, byCodePoint));
  const rank = new Map(names.map((name, index) => [name, index]));
  await database.run("CREATE TABLE antenna_rank (id BIGINT, rank BIGINT)");
  await database.fill(
    "antenna_rank",
    written.map(({ id, text }) => [id, rank.get(text.trim()) ?? -1]),
  );
  return names;
}
