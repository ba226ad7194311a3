import { describe, expect, test } from "vitest";
import type { ReaderLogSpec } from "../../../src/intake/reader/reader-log.ts";
import { codeA, columns, counts, readFiles, spec } from "./log-folder.ts";

const only = { ...columns, antenna: null, rssi: null, count: null };

/** The moment a time is read as, in microseconds; null where it is refused. */
async function moment(
  text: string,
  time: Partial<ReaderLogSpec["time"]>,
  change: Partial<ReaderLogSpec> = {},
  zone?: string,
): Promise<number | null> {
  const outcome = await readFiles(
    { "log.csv": `time,epc\n"${text}",${codeA}\n` },
    [spec({ columns: only, time: { unit: "iso", zone: null, format: null, ...time }, ...change })],
    [],
    zone === undefined ? {} : { zone },
  );
  const [span] = outcome.logs.spans;
  expect(counts(outcome)).toEqual([span === undefined ? "1 = 0 + 0 + 0 + 1" : "1 = 1 + 0 + 0 + 0"]);
  return span?.fromUs ?? null;
}

const at = (iso: string, extraUs = 0) => Date.parse(iso) * 1000 + extraUs;

describe("the time of a read", () => {
  test.each([
    ["2026-05-21T08:00:00Z", 0],
    ["2026-05-21T08:00:00.123456Z", 123_456],
    ["2026-05-21 08:00:00.1", 100_000],
    ["2026-05-21T08:00:00,25", 250_000],
    ["2026-05-21T09:00:00+01:00", 0],
    ["2026-05-21T09:00:00+0100", 0],
    ["2026-05-21 03:30:00 -0430", 0],
    ["2026-05-21t08:00:00z", 0],
    ["2026-05-21T08:00:00.123456789Z", 123_456],
    ["2026-05-21 08:00", 0],
  ])("%s is ISO 8601, in UTC where nothing says otherwise", async (text, extraUs) => {
    expect(await moment(text, {})).toBe(at("2026-05-21T08:00:00Z", extraUs));
  });

  test.each(["infinity", "epoch", "2026-02-30 08:00:00", "21.05.2026 08:00", "2026-05-21", "now", "8"])(
    "%s is no ISO 8601",
    async (text) => {
      expect(await moment(text, {})).toBeNull();
    },
  );

  test.each([
    ["s", "1779350400", 0],
    ["s", "1779350400.123456", 123_456],
    ["s", "1779350400.5", 500_000],
    ["ms", "1779350400000.25", 250],
    ["us", "1779350400000001", 1],
    ["ns", "1779350400000001999", 1],
  ] as const)("counted in %s keeps its fraction: %s", async (unit, text, extraUs) => {
    expect(await moment(text, { unit })).toBe(at("2026-05-21T08:00:00Z", extraUs));
  });

  test("counted with a decimal comma", async () => {
    expect(await moment("1779350400,5", { unit: "s" }, { decimal: "," })).toBe(at("2026-05-21T08:00:00.5Z"));
  });

  test("without an offset goes by the log's zone, else by the facility's", async () => {
    expect(await moment("2026-05-21 09:00:00", {}, {}, "Europe/Dublin")).toBe(at("2026-05-21T08:00:00Z"));
    expect(await moment("2026-05-21 18:00:00", { zone: "Asia/Seoul" }, {}, "Europe/Dublin")).toBe(
      at("2026-05-21T09:00:00Z"),
    );
    expect(await moment("2026-01-21 09:00:00", {}, {}, "Europe/Dublin")).toBe(at("2026-01-21T09:00:00Z"));
    expect(await moment("2026-05-21T09:00:00Z", { zone: "Asia/Seoul" })).toBe(at("2026-05-21T09:00:00Z"));
  });

  test("in an hour that the clocks skipped or showed twice is refused", async () => {
    const zone = { zone: "Europe/Dublin" };
    expect(await moment("2026-03-29 00:59:59", zone)).toBe(at("2026-03-29T00:59:59Z"));
    expect(await moment("2026-03-29 01:30:00", zone)).toBeNull();
    expect(await moment("2026-03-29 02:00:00", zone)).toBe(at("2026-03-29T01:00:00Z"));
    expect(await moment("2026-10-25 00:59:59", zone)).toBe(at("2026-10-24T23:59:59Z"));
    expect(await moment("2026-10-25 01:30:00", zone)).toBeNull();
    expect(await moment("2026-10-25 02:00:00", zone)).toBe(at("2026-10-25T02:00:00Z"));
  });

  test("goes by a pattern where the log has one of its own", async () => {
    const format = "%d/%m/%Y %H:%M:%S.%f";
    expect(await moment("21/05/2026 08:00:00.25", { format })).toBe(at("2026-05-21T08:00:00.25Z"));
    expect(await moment("21/05/2026 09:00:00.25", { format, zone: "Europe/Dublin" })).toBe(
      at("2026-05-21T08:00:00.25Z"),
    );
    expect(await moment("21/05/2026 09:00:00 +0100", { format: "%d/%m/%Y %H:%M:%S %z" })).toBe(
      at("2026-05-21T08:00:00Z"),
    );
    expect(await moment("05-21-2026", { format })).toBeNull();
  });

  test("is shifted by the clock's offset", async () => {
    expect(await moment("2026-05-21T08:00:00Z", {}, { clockOffsetS: -32.000_001 })).toBe(
      at("2026-05-21T07:59:28Z", -1),
    );
  });
});
