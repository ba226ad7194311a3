import { describe, expect, it } from "vitest";
import { errors, read, soundLog, soundYaml } from "./folder.ts";

/** The problems of a code that a facility.yaml gives beside a sound log, as found and line. */
async function problemsOf(code: string, yaml: string) {
  const { problems } = await read({ "facility.yaml": yaml, "passes/a.csv": soundLog });
  expect(errors(problems)).toEqual([]);
  return problems.filter((problem) => problem.code === code);
}

const placeholders = (yaml: string) => problemsOf("placeholder-unchanged", yaml);
const organisations = (yaml: string) => problemsOf("role-is-organisation", yaml);

describe("a placeholder that nobody changed", () => {
  const yaml = `${soundYaml.replace("number: T-1", "number: R-000")}client: My client
prepared_by: { name: Name of the engineer, role: Role, organisation: My firm }
criteria:
  - { id: c1, title: "Proposal: most tags are read", measure: tag-read-rate, at_least: 0.99 }
`;

  it("is remarked on at its place, whether a text, a person or a proposed criterion", async () => {
    const found = await placeholders(yaml);
    expect(found.map((problem) => problem.found)).toEqual([
      '"report number: R-000"',
      '"client: My client"',
      '"prepared_by name: Name of the engineer"',
      '"prepared_by role: Role"',
      '"prepared_by organisation: My firm"',
      '"criterion: Proposal: most tags are read"',
    ]);
    expect(found[0]).toMatchObject({ severity: "warning", file: "facility.yaml", line: 3, column: 19 });
  });

  it("is none once it was replaced, whatever comment stands behind it", async () => {
    const changed = soundYaml.replace("name: Test hall", "name: Test hall   # change");
    expect(await placeholders(changed)).toEqual([]);
  });
});

describe("an organisation in the place of a person", () => {
  const people = (preparer: string, witness = "{ name: Orla Fane }") =>
    `${soundYaml}client: Harbour Crates Ltd\nprepared_by: ${preparer}\nwitnessed_by: [${witness}]\n`;

  it.each([
    [
      "a role that is the person's own organisation",
      "{ name: Ben Arlow, organisation: Arlow & Co., role: arlow & co }",
      "role",
    ],
    ["a role that is the client", "{ name: Ben Arlow, role: Harbour Crates Ltd. }", "role"],
    ["a name that is the organisation", "{ name: Arlow & Co, organisation: Arlow & Co }", "name"],
  ])("is remarked on: %s", async (_, preparer, key) => {
    const [found, ...others] = await organisations(people(preparer));
    expect(others).toEqual([]);
    expect(found).toMatchObject({ severity: "warning", found: expect.stringContaining(`"${key}"`) });
    expect(found!.advice).toMatch(/is an organisation/);
  });

  it("is remarked on for every witness", async () => {
    const witness = "{ name: Orla Fane, role: Arlow & Co }, { name: Harbour Crates Ltd }";
    const found = await organisations(people("{ name: Ben Arlow, organisation: Arlow & Co }", witness));
    expect(found.map((problem) => problem.found)).toEqual([
      '"role": "Arlow & Co"',
      '"name": "Harbour Crates Ltd"',
    ]);
  });

  it("is not seen in a person with a role and an organisation", async () => {
    const person = "{ name: Ben Arlow, role: Engineer, organisation: Arlow & Co }";
    expect(await organisations(people(person))).toEqual([]);
  });
});
