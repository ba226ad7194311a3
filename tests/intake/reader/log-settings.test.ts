import { describe, expect, test } from "vitest";
import { settingsAbove, settingsIn } from "../../../src/intake/reader-log/source/settings.ts";
import { codeA, readFiles, spec, startUs } from "./log-folder.ts";

const told = (settings: Map<string, string>) => [...settings].map(([name, value]) => `${name} = ${value}`);

describe("comments above the data of a log", () => {
  test("state one setting a line, or several with semicolons between them", () => {
    const head =
      "# Pellmark C2 tag log\n# power: 22,0 dBm; session: 1; clock: internal; not set\n// mode=dense\na;b\n# late: 1\n";
    expect(told(settingsIn(head))).toEqual([
      "power = 22,0 dBm",
      "session = 1",
      "clock = internal; not set",
      "mode = dense",
    ]);
  });
});

describe("a log of objects or elements states settings above its first read:", () => {
  test("JSON members with one short value, and none of the read itself", () => {
    const head = `{"reader": {"txPower": "30 dBm", "session": 2, "antennas": [1, 2]}, "reads": [{"power": 12, "epc": "${codeA}"}]}`;
    expect(told(settingsAbove(head, ["epc"]))).toEqual(["txPower = 30 dBm", "session = 2"]);
  });

  test("XML attributes and elements", () => {
    const head = `<?xml version="1.0"?>\n<r:Report session="2"><r:Power>3000</r:Power><Tag session="3"><EPC>${codeA}</EPC></Tag></r:Report>`;
    expect(told(settingsAbove(head, ["EPC"]))).toEqual(["version = 1.0", "session = 2", "Power = 3000"]);
  });

  test("and none where no code is in the part that is looked at", () => {
    expect(told(settingsAbove('{"session": 2, "reads": []}', ["epc"]))).toEqual([]);
  });

  test("they are handed on with the time that the log covers", async () => {
    const time = startUs + 11e6;
    const text = JSON.stringify({
      session: 2,
      reads: [{ time, epc: codeA, antenna: 1, rssi: -61.5, count: 1 }],
    });
    const { logs } = await readFiles({ "log.json": text }, [spec({ files: ["log.json"], rows: ["reads"] })]);
    expect(logs!.settings).toEqual([
      {
        path: "log.json",
        readPoints: ["dock-1"],
        fromUs: time,
        toUs: time,
        values: [{ name: "session", value: "2" }],
      },
    ]);
  });
});
