import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, describe as group, it } from "vitest";
import { ended } from "./ended.ts";

async function said(content: string | Buffer | null, name = "gate.csv") {
  const room = await mkdtemp(join(tmpdir(), "proofwalk-describe-"));
  const path = join(room, name);
  if (content !== null) await writeFile(path, content);
  return ended("describe", path);
}

const log = "time,epc\n2026-05-21T08:00:00Z,3034257BF40C0E4000000001\n";

it("a readable log ends in 0, facts first and the entry to paste last", async () => {
  const { status, out, err } = await said(log);
  expect(status).toBe(0);
  expect(err).toBe("");
  expect(out).toMatch(/rows {6}1, none of them repeated/);
  expect(out.indexOf("\nreader_logs:\n")).toBeGreaterThan(out.indexOf("Columns"));
});

group("what is no reader log ends in 2 with what to do, and prints nothing else", () => {
  it.each([
    ["a file that is not there", null, "gate.csv", "There is no such file."],
    ["an empty file", "", "gate.csv", "It is empty."],
    ["blank lines", "\n\n", "gate.csv", "It holds no rows."],
    ["UTF-16", Buffer.from(`\ufeff${log}`, "utf16le"), "gate.csv", "Save it as UTF-8."],
    ["a spreadsheet", "PK\u0003\u0004", "gate.xlsx", "Export the log as CSV"],
    ["a page", "<!doctype html><html></html>", "gate.html", "Export the log as CSV"],
    ["XML without reads", "<reads/>", "gate.xml", "It holds no rows."],
    ["a packed file cut off", gzipSync(log.repeat(500)).subarray(0, 90), "gate.csv.gz", "It is cut off"],
    ["a parquet file in name only", "PAR1 and no more", "gate.parquet", "cannot be read as one"],
  ])("%s", async (_, content, name, words) => {
    const { status, out, err } = await said(content, name);
    expect(status).toBe(2);
    expect(out).toBe("");
    expect(err).toContain(words);
  });

  it("a folder", async () => {
    const { status, err } = await ended("describe", tmpdir());
    expect(status).toBe(2);
    expect(err).toContain("It is a folder.");
  });
});
