import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quoted } from "../../src/intake/problems/card/wording.ts";
import { draws } from "../draws.ts";
import { log, read, readSound, soundYaml } from "./folder.ts";

const hostile = [
  '<script>alert("x")</script>',
  "=1+1",
  "a\u202ebc",
  "'; --",
  "__proto__",
  "constructor",
  "x".repeat(300),
  "{{ name }}",
  "مرحبا",
  "𝄞",
];
const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;

describe("hostile text", () => {
  test("comes through unchanged wherever text is free", async () => {
    for (const text of hostile) {
      const yaml = soundYaml
        .replace("name: Test hall", `name: ${JSON.stringify(text)}`)
        .replace(
          "name: Dock 1",
          `name: Dock 1, equipment: { ${JSON.stringify(`my ${text}`)}: ${JSON.stringify(text)} }`,
        );
      const { facility, log: made } = await readSound({
        "facility.yaml": yaml,
        "passes/a.csv": log(
          `round,pass,read_point,tag,read,orientation,note,walked_by,void_reason,antenna,${cell(`my ${text}`)}`,
          `as-left,${cell(text)},dock-1,${cell(text)},yes,${[text, text, text, text, text, text].map(cell).join(",")}`,
        ),
      });
      expect(facility.name).toBe(text);
      expect(Object.entries(facility.readPoints[0]!.equipment)).toEqual([[`my ${text}`, text]]);
      expect(made.passes[0]).toMatchObject({
        id: text,
        notes: [text],
        walkedBy: [text],
        voidReason: text,
        extras: [{ column: `my ${text}`, values: [text] }],
      });
      expect(made.tags).toEqual([text]);
      expect(made.rows.antennas).toEqual([text]);
      expect(made.rows.columns.get("orientation")?.values).toEqual([text]);
    }
  });

  test("a key that plain values cannot carry is refused rather than lost", async () => {
    const { problems } = await read({
      "facility.yaml": soundYaml.replace("name: Dock 1", "equipment: { __proto__: x }"),
    });
    expect(problems.map((problem) => problem.code)).toContain("yaml-structure");
  });

  test("is quoted, cut and made visible in messages", async () => {
    for (const text of hostile) {
      const { problems } = await read({
        "passes/a.csv": log("round,pass,read_point,tag,read", `as-left,P1,${cell(text)},T1,yes`),
      });
      expect(problems[0]?.code).toBe("read-point-unknown");
      expect(problems[0]?.found.length).toBeLessThan(90);
      expect(problems[0]?.found).not.toMatch(/[\u202e\n\r]/);
    }
  });

  test("no text makes a quotation long or lets a control character out", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 400 }), (text) => {
        const shown = quoted(text);
        expect([...shown.replaceAll(/\\u[0-9a-f]{4}|\\[nrt]/g, "?")].length).toBeLessThanOrEqual(62);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: that none is left is the claim
        expect(shown).not.toMatch(/[\u0000-\u001f\u007f\u202a-\u202e\u2066-\u2069]/);
      }),
    );
  });

  test("no log makes the reader fail in any way but by listing problems", async () => {
    const piece = fc.constantFrom(
      ...[
        "round",
        "pass",
        "read_point",
        "tag",
        "read",
        "presented",
        "as-left",
        "dock-1",
        "P1",
        "T1",
        "yes",
        "no",
      ],
      ...[
        ",",
        ";",
        "\n",
        "\r\n",
        '"',
        "\t",
        " ",
        "-61",
        "manifest",
        "missed_tags",
        "tags_presented",
        "tags_read",
        "é",
        "\u0000",
      ],
    );
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { maxLength: 40 }), async (pieces) => {
        const { input, problems } = await read({ "passes/a.csv": pieces.join("") });
        expect(input === null).toBe(problems.some((problem) => problem.severity === "error"));
      }),
      { numRuns: draws(60) },
    );
  });
});
