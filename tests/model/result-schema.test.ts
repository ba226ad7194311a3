import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { resultSchema, resultSchemaText } from "../../src/model/result/result.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

const golden = join(import.meta.dirname, "../golden");

test("the schema that others read results with is the one that the types are made of", () => {
  const committed = readFileSync("schemas/result.schema.json", "utf8");
  expect(committed, "run npm run compile && node dist/src/intake/write-documents.js").toBe(
    resultSchemaText(),
  );
});

test("every result of the golden folders has all keys of the schema, and no other", () => {
  const files = readdirSync(golden, { recursive: true, encoding: "utf8" });
  const archived = files.filter((file) => file.endsWith(".result.json"));
  expect(archived.length).toBeGreaterThan(2);
  for (const file of archived) {
    const written: unknown = JSON.parse(readFileSync(join(golden, file), "utf8"));
    expect(resultSchema.parse(written), file).toEqual(written);
  }
});

test("so has every result of the demonstration", async () => {
  const { results } = await demonstrationSite();
  expect(results.length).toBeGreaterThan(1);
  for (const written of results) expect(resultSchema.parse(written), written.facility.id).toEqual(written);
});

test("a result that lacks a key, or has a state that is none, is refused", async () => {
  const { results } = await demonstrationSite();
  const { findings, ...lacking } = results[0]!;
  expect(resultSchema.safeParse(lacking).success).toBe(false);
  expect(resultSchema.safeParse({ ...lacking, findings, state: "passed" }).success).toBe(false);
});

test("a key that a later version adds does not stand in the way of reading", async () => {
  const { results } = await demonstrationSite();
  expect(resultSchema.safeParse({ ...results[0], weather: "dry" }).success).toBe(true);
});
