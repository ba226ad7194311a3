import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { problemCards, problemsPage } from "../../src/intake/problems/index.ts";

test("the list of problems in the documentation is that of the catalogue", () => {
  const committed = readFileSync("docs/problems.md", "utf8");
  expect(committed, "run npm run compile && node dist/src/intake/write-documents.js").toBe(problemsPage());
});

test("each code has one card, named like a public contract", () => {
  const codes = problemCards.map(({ code }) => code);
  expect(codes).toEqual([...new Set(codes)]);
  for (const code of codes) expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)+$/);
});

test("each card says in whole sentences what is wrong and what to do", () => {
  for (const { code, means, advice } of problemCards) {
    for (const sentence of [means, advice]) expect(sentence, code).toMatch(/^[A-Z-].*[.?]$/i);
    expect(`${means}${advice}`, code).not.toMatch(/[|\n]/);
  }
});

test("each problem is provoked by a test", () => {
  const texts = textsBelow("tests").join("\n");
  const silent = problemCards
    .map(({ code }) => code)
    .filter((code) => !new RegExp(`["' ]${code}["' ]`).test(texts));
  expect(silent).toEqual([]);
});

test("no problem is reported past the catalogue", () => {
  const sources = readdirSync("src/intake", { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts") && !name.startsWith("problems"))
    .map((name) => ({ name, text: readFileSync(`src/intake/${name}`, "utf8") }));
  expect(sources.length).toBeGreaterThan(20);
  const written = sources.filter(({ text }) => /\bseverity: "/.test(text)).map(({ name }) => name);
  expect(written).toEqual([]);
});

function textsBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".test.ts"))
    .map((name) => readFileSync(`${folder}/${name}`, "utf8"));
}
