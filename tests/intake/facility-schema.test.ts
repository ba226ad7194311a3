import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { facilityJsonSchema, facilitySchemaText } from "../../src/intake/facility/facility-schema.ts";

test("the schema for editors is the one that the tool checks with", () => {
  const committed = readFileSync("schemas/facility.schema.json", "utf8");
  expect(committed, "run npm run compile && node dist/src/intake/write-documents.js").toBe(
    facilitySchemaText(),
  );
});

test("every key is explained, and no unknown one let through", () => {
  const walk = (node: unknown, path: string): void => {
    if (typeof node !== "object" || node === null) return;
    const { properties, additionalProperties, ...rest } = node as Record<string, unknown>;
    if (properties !== undefined) expect(additionalProperties, path).toBe(false);
    for (const [key, value] of Object.entries(
      (properties ?? {}) as Record<string, { description?: string }>,
    )) {
      expect(value.description, `${path}.${key}`).toMatch(/\.$/);
      walk(value, `${path}.${key}`);
    }
    for (const [key, value] of Object.entries(rest)) walk(value, `${path}/${key}`);
    walk(additionalProperties, path);
  };
  walk(facilityJsonSchema(), "facility");
});

test("it is draft-07 and leaves no trace of how it is made", () => {
  const text = facilitySchemaText();
  expect(text).toContain("http://json-schema.org/draft-07/schema#");
  expect(text).not.toContain("digitsToo");
});
