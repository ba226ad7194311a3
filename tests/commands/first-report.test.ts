import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommandLine } from "../../src/commands/command-line.ts";

let data: string;
beforeEach(() => {
  data = mkdtempSync(join(tmpdir(), "proofwalk-first-"));
});
afterEach(() => rmSync(data, { recursive: true }));

async function said(...words: string[]): Promise<string> {
  let text = "";
  const hear = (more: string) => {
    text += more;
  };
  const terminal = {
    out: hear,
    err: hear,
    watched: false,
    progress: () => {},
    interrupted: () => new Promise(() => {}),
  };
  await runCommandLine(words, terminal);
  return text;
}

/** What check prints: its problems as a person counts them, and whether errors are left. */
async function checking() {
  const text = await said("check", "--data", data);
  const problems = text.split("\n").filter((line) => / {2}(?:error|warning)(?:,|$)/.test(line));
  return { text, problems: problems.length, isSound: text.includes("no errors") };
}

/** A log as a European spreadsheet writes it. */
function europeanLog(round: string, door: string, day: string): string {
  const rows = Array.from({ length: 22 }, (_, p) =>
    Array.from({ length: 3 }, (_, t) => {
      const minute = String(2 * p).padStart(2, "0");
      const clock = `${day}/11/2026 09:${minute}:00;${day}/11/2026 09:${minute}:20`;
      return `${round};${p + 1};${door};${clock};1,${p % 9};331645AA3C0019400007000${t};yes;-5${t},5;1`;
    }).join("\n"),
  );
  return `Round;Pass;Read point;Start;End;Speed (m/s);EPC;Read;RSSI;Ant\n${rows.join("\n")}\n`;
}

const answers = [
  ["name: My facility", "name: Harbour shed"],
  ["client: My client", "client: Harbour Crates"],
  ["address: Street, town", "address: Quay 3"],
  ["number: R-000", "number: HS-7"],
  ["issued: 2000-01-01", "issued: 2026-11-20"],
  ["name: Name of the engineer, role: Role", "name: Orla Fane, role: Engineer"],
  ["organisation: My firm", "organisation: Fane & Co"],
  ["name: Name of the witness, role: Role", "name: Ben Arlow, role: Depot manager"],
] as const;

function change(file: string, changes: readonly (readonly [string, string])[]): void {
  let text = readFileSync(file, "utf8");
  for (const [from, to] of changes) {
    expect(text).toContain(from);
    text = text.replaceAll(from, to);
  }
  writeFileSync(file, text);
}

describe("a first report by somebody who reads only the terminal", () => {
  const hall = (name: string) => join(data, "hall", name);

  it("takes two runs of check and fewer than 30 problems from new, with a copied file and a wrong round", async () => {
    await said("new", join(data, "hall"));
    writeFileSync(hall("passes/dock-1.csv"), europeanLog("as-found", "dock-1", "12"));
    writeFileSync(hall("passes/dock-2.csv"), europeanLog("as-fuond", "Dock 2", "13"));
    cpSync(hall("passes/dock-2.csv"), hall("passes/dock-2 (1).csv"));
    const first = await checking();
    for (const told of [
      "a copy of passes/dock-2.csv",
      'Did you mean "as-found"',
      "date_order: day-first",
      "My facility",
    ])
      expect(first.text).toContain(told);
    rmSync(hall("passes/dock-2 (1).csv"));
    rmSync(hall("passes/passes.csv"));
    change(hall("passes/dock-2.csv"), [["as-fuond", "as-found"]]);
    change(hall("facility.yaml"), [
      ...answers,
      ["Proposal: ", ""],
      ["confidence: 0.95", "date_order: day-first\nconfidence: 0.95"],
      ["    kind: dock door\n", "    kind: dock door\n  - { id: Dock 2, kind: dock door }\n"],
    ]);
    const second = await checking();
    expect(second.isSound).toBe(true);
    expect(first.problems + second.problems).toBeLessThan(30);
  });

  it("takes two runs from new --from, which settles ids, dates and the copy by itself", async () => {
    const given = (name: string, text: string) => {
      writeFileSync(join(data, name), text);
      return join(data, name);
    };
    const two = europeanLog("as-found", "Dock 2", "13");
    const files = [
      given("dock-1.csv", europeanLog("as-found", "dock-1", "12")),
      given("dock-2.csv", two),
      given("dock-2 (1).csv", two),
    ];
    expect(await said("new", join(data, "hall"), "--from", ...files)).toContain("It is a copy of");
    const first = await checking();
    expect(first.isSound).toBe(true);
    change(hall("facility.yaml"), [...answers, ["Proposal: ", ""]]);
    const second = await checking();
    expect(second.text).not.toMatch(/placeholder|Proposal/);
    expect(first.problems + second.problems).toBeLessThan(10);
  });
});
