import { expect, test } from "vitest";
import { errors, log, read, readSound, soundLog, soundYaml } from "./folder.ts";
import { describeYamlFaults, type YamlFault } from "./yaml-fault.ts";

const asLeft = "{ id: as-left, date: 2026-05-21 }";
const withRadio = (radio: string, settings = "transmit_power_dbm: 31.5, session: 1") =>
  `{ id: as-left, date: 2026-05-21, settings: { dock-1: { ${settings} } }, radio: { dock-1: { ${radio} } } }`;
const yamlWith = (radio: string, settings?: string) => soundYaml.replace(asLeft, withRadio(radio, settings));

const fault = (claim: string, radio: string, rest: Pick<YamlFault, "code" | "at" | "says">): YamlFault => ({
  claim,
  change: [asLeft, withRadio(radio)],
  ...rest,
});

describeYamlFaults("The radio of a round", [
  fault("a region that is no region is answered with the four that are", "region: eu-uper", {
    code: "value-not-allowed",
    at: "eu-uper",
    says: /eu-lower, eu-upper, us, other.*Did you mean "eu-upper"/s,
  }),
  fault("a misspelt key is answered with the key meant", "region: us, cable_loss: 1.5", {
    code: "key-unknown",
    at: "cable_loss:",
    says: /cable_loss_db/,
  }),
  fault("another region needs a limit", "region: other, antenna_gain_dbi: 6", {
    code: "radio-limit-unstated",
    at: "other",
    says: /limit_dbm_eirp or limit_dbm_erp, with a source/,
  }),
  fault("a limit needs a source", "limit_dbm_eirp: 36, antenna_gain_dbi: 6", {
    code: "radio-limit-unstated",
    at: "36",
    says: /source/,
  }),
  fault(
    "a limit in EIRP and one in e.r.p. must agree",
    "limit_dbm_eirp: 36, limit_dbm_erp: 36, source: law, antenna_gain_dbi: 6",
    {
      code: "radio-stated-twice",
      at: "36, source",
      says: /2.15 dB less/,
    },
  ),
  fault("an antenna has a gain in dBi or in dBic", "region: us, antenna_gain_dbi: 6, antenna_gain_dbic: 9", {
    code: "radio-stated-twice",
    at: "9 }",
    says: /either antenna_gain_dbi or antenna_gain_dbic/,
  }),
  fault(
    "a frequency lies in the band of its region",
    "region: eu-lower, frequency_mhz: 915, antenna_gain_dbi: 3",
    {
      code: "radio-frequency-outside",
      at: "915",
      says: /865 to 868 MHz/,
    },
  ),
  fault("a cable loses no less than nothing", "region: us, antenna_gain_dbi: 6, cable_loss_db: -1.5", {
    code: "value-out-of-range",
    at: "-1.5",
    says: /at least 0/,
  }),
  fault("a radio is of a read point that is declared", "region: us } , dok-1: { region: us", {
    code: "reference-unknown",
    at: "dok-1",
    says: /dock-1/,
  }),
]);

test("a setting over its limit is a warning that names both and the rule", async () => {
  const { problems } = await read({
    "facility.yaml": yamlWith("region: us, cable_loss_db: 1, antenna_gain_dbi: 6"),
    "passes/a.csv": soundLog,
  });
  const over = problems.filter(({ code }) => code === "radio-over-limit");
  expect(over).toHaveLength(1);
  expect(over[0]!.severity).toBe("warning");
  expect(over[0]!.line).toBe(6);
  expect(over[0]!.found).toBe('"dock-1" at 36.5 dBm EIRP (30.5 dBm at the antenna) in round "as-left"');
  expect(over[0]!.expected).toMatch(/^at most 36 dBm EIRP and 30 dBm at the antenna: 47 CFR 15\.247/);
});

test("a setting that just meets its limit is no problem, and neither is a radio that states only its zone", async () => {
  for (const radio of ["region: us, cable_loss_db: 1.5, antenna_gain_dbi: 6", "zone_m: 2"]) {
    const { problems } = await read({ "facility.yaml": yamlWith(radio), "passes/a.csv": soundLog });
    expect(problems).toEqual([]);
  }
});

test("of a rule and a stated limit the stricter counts", async () => {
  const radio = (limit: number) =>
    `region: eu-lower, limit_dbm_eirp: ${limit}, source: licence, cable_loss_db: 1.5, antenna_gain_dbi: 4`;
  const overWith = async (limit: number) => {
    const { problems } = await read({ "facility.yaml": yamlWith(radio(limit)), "passes/a.csv": soundLog });
    return problems.map(({ code, expected }) => [code, expected]);
  };
  expect(await overWith(38)).toEqual([]);
  expect(await overWith(33)).toEqual([["radio-over-limit", "at most 33 dBm EIRP: licence"]]);
});

test("a limit without a power is said, since nothing is then held against it", async () => {
  const { input, problems } = await read({
    "facility.yaml": yamlWith("region: us, antenna_gain_dbi: 6", "power: strong"),
    "passes/a.csv": soundLog,
  });
  expect(errors(problems)).toEqual([]);
  expect(problems.map(({ code }) => code)).toEqual(["radio-power-unknown"]);
  expect(input!.facility.rounds[1]!.radio!["dock-1"]).toMatchObject({ region: "us", antennaGainDbi: 6 });
});

test("a setting's power is known by any of its usual names", async () => {
  for (const power of ["transmit_power_dbm: 32", "Tx power: 32 dBm", "power_cdbm: 3200"]) {
    const { problems } = await read({
      "facility.yaml": yamlWith("region: us, cable_loss_db: 1.5, antenna_gain_dbi: 6", power),
      "passes/a.csv": soundLog,
    });
    expect(problems.map(({ code }) => code)).toEqual(["radio-over-limit"]);
  }
});

const header = "round,pass,read_point,started_at,ended_at,tag,read";
const row = (pass: string, from: string, to: string, tag: string) =>
  `as-left,${pass},dock-1,2026-05-21 10:${from},2026-05-21 10:${to},${tag},yes`;
const pausesIn = async (session: number | string, rows: string[]) => {
  const yaml = soundYaml.replace(
    asLeft,
    `{ id: as-left, date: 2026-05-21, settings: { dock-1: { session: ${session} } } }`,
  );
  const { problems } = await read({ "facility.yaml": yaml, "passes/a.csv": log(header, ...rows) });
  return problems.filter(({ code }) => code === "pause-within-persistence");
};
const [first, soon, later] = [
  row("P1", "00:00", "00:20", "T1"),
  row("P2", "00:24", "00:40", "T1"),
  row("P3", "00:45", "00:50", "T1"),
];

test("a pause shorter than the session's persistence is a warning where a tag is in both passes", async () => {
  const found = await pausesIn(1, [first, soon, later]);
  expect(found.map(({ line, found: text }) => [line, text])).toEqual([
    [3, 'pass "P2" 4 s after pass "P1", with one tag of both, in session 1'],
  ]);
  expect(found[0]!.severity).toBe("warning");
  expect(found[0]!.expected).toBe("a pause of 5 s or more: tags keep silent for 0.5 to 5 s in session 1");
});

test("other tags, session 0, and a pause past the persistence are no problem", async () => {
  expect(await pausesIn(1, [first, soon.replace("T1", "T2")])).toEqual([]);
  expect(await pausesIn(0, [first, soon])).toEqual([]);
  expect(await pausesIn("S2", [first, soon])).toEqual([]);
});

test("times on the full minute say too little of a pause", async () => {
  const minutes = [row("P1", "00:00", "01:00", "T1"), row("P2", "01:00", "02:00", "T1")];
  expect(await pausesIn(1, minutes)).toEqual([]);
});

test("a void pass silences tags as well", async () => {
  const voided = log(`${header},void_reason`, `${first},stopped`, `${soon},`);
  const yaml = soundYaml.replace(
    asLeft,
    "{ id: as-left, date: 2026-05-21, settings: { dock-1: { session: S1 } } }",
  );
  const input = await readSound({ "facility.yaml": yaml, "passes/a.csv": voided });
  expect(input.problems.map(({ code }) => code)).toEqual(["pause-within-persistence"]);
});
