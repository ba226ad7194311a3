import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { heardFacility } from "./heard.ts";

const round = (settings: Record<string, string>) => [
  { id: "as-left", title: "As left", date: null, changes: null, settings: { "dock-1": settings } },
];

function diagnosed(declared: Record<string, string>, ...logs: Record<string, string>[]) {
  const rows = [1, 2, 3].map((tag) => ({ pass: "1", tag: `T${tag}`, by: { 1: -50 } }));
  const depot = heardFacility({ rounds: round(declared) }, rows);
  depot.log.heard!.settings = logs.map((values, i) => ({
    file: `reads/${i + 1}.csv`,
    readPoint: "dock-1",
    round: "as-left",
    values: Object.entries(values).map(([name, value]) => ({ name, value })),
  }));
  return diagnose(depot, depot.facility.readPoints[0]!);
}

test("settings agree however their names and units are written", () => {
  const { diagnosis, why } = diagnosed(
    { transmit_power_dbm: "30", session: "1" },
    { "Tx power": "30.0 dBm", Session: "S1", Serial: "A-1" },
    { power_cdbm: "3000", session: "1", Serial: "A-2" },
  );
  expect(diagnosis).toBeNull();
  expect(why!.settings).toEqual([
    {
      setting: "transmit_power_dbm",
      declared: "30",
      logged: [
        { file: "reads/1.csv", values: ["30.0 dBm"] },
        { file: "reads/2.csv", values: ["3000"] },
      ],
      agrees: true,
    },
    {
      setting: "session",
      declared: "1",
      logged: [
        { file: "reads/1.csv", values: ["S1"] },
        { file: "reads/2.csv", values: ["1"] },
      ],
      agrees: true,
    },
  ]);
});

test("a log that states another setting than its round declares is said, as a fact", () => {
  const { diagnosis } = diagnosed({ transmit_power_dbm: "30" }, { "Tx power": "27 dBm" });
  expect(diagnosis!.suggestions).toEqual([
    {
      kind: "setting",
      subject: { setting: "transmit_power_dbm" },
      sentence:
        "Round as-left declares transmit_power_dbm 30, and its logs state 27 dBm in reads/1.csv. Find out which holds.",
      evidence: {
        missed: null,
        presented: null,
        elsewhereMissed: null,
        elsewherePresented: null,
        ratio: null,
        p: null,
      },
    },
  ]);
});

test("files of one round that state different settings are said, whatever the round declares", () => {
  const { diagnosis } = diagnosed({}, { population: "60" }, { population: "120" });
  expect(diagnosis!.sentence).toBe(
    "The logs of round as-left state different values of population: 60 in reads/1.csv and 120 in reads/2.csv. Find out which passes were walked with which.",
  );
});

test("comments that are no settings may differ", () => {
  const { diagnosis, why } = diagnosed({}, { Created: "08:00" }, { Created: "09:00" });
  expect(diagnosis).toBeNull();
  expect(why!.settings).toBeNull();
});
