import { beforeAll, describe, expect, test } from "vitest";
import type { ReaderLogSpec } from "../../../src/model/facility.ts";
import { codeA, columns, counts, readFiles, spec } from "./log-folder.ts";

const only = { ...columns, antenna: null, rssi: null, count: null };

interface TimeLog {
  text: string;
  time?: Partial<ReaderLogSpec["time"]>;
  change?: Partial<ReaderLogSpec>;
}

/**
 * The moments that times are read as, in microseconds; null where one is refused. Each stands alone in a log of its own
 * with a read point of its own; they are read in one go, since that costs a fraction of one go for each.
 */
async function moments(logs: TimeLog[], zone?: string): Promise<(number | null)[]> {
  const outcome = await readFiles(
    Object.fromEntries(logs.map(({ text }, i) => [`log-${i}.csv`, `time,epc\n"${text}",${codeA}\n`])),
    logs.map(({ time, change }, i) =>
      spec({
        files: [`log-${i}.csv`],
        readPoint: { kind: "fixed", readPoint: `dock-${i}` },
        columns: only,
        time: { unit: "iso", zone: null, format: null, ...time },
        ...change,
      }),
    ),
    [],
    zone === undefined ? {} : { zone },
  );
  const spans = logs.map((_, i) => outcome.logs.spans.find(({ readPoint }) => readPoint === `dock-${i}`));
  expect(counts(outcome)).toEqual(
    spans.map((span) => (span === undefined ? "1 = 0 + 0 + 0 + 1" : "1 = 1 + 0 + 0 + 0")),
  );
  return spans.map((span) => span?.fromUs ?? null);
}

const at = (iso: string, extraUs = 0) => Date.parse(iso) * 1000 + extraUs;

const isoTimes: [string, number][] = [
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
];
const otherTimes = ["infinity", "epoch", "2026-02-30 08:00:00", "21.05.2026 08:00", "2026-05-21", "now", "8"];
const countedTimes: ["s" | "ms" | "us" | "ns", string, number][] = [
  ["s", "1779350400", 0],
  ["s", "1779350400.123456", 123_456],
  ["s", "1779350400.5", 500_000],
  ["ms", "1779350400000.25", 250],
  ["us", "1779350400000001", 1],
  ["ns", "1779350400000001999", 1],
];

describe("the time of a read", () => {
  const read = new Map<string, number | null>();
  beforeAll(async () => {
    const logs = [
      ...[...isoTimes.map(([text]) => text), ...otherTimes].map((text) => ({ text })),
      ...countedTimes.map(([unit, text]) => ({ text, time: { unit } })),
    ];
    const times = await moments(logs);
    for (const [i, { text }] of logs.entries()) read.set(text, times[i]!);
    expect(read.size).toBe(logs.length);
  });

  test.each(isoTimes)("%s is ISO 8601, in UTC where nothing says otherwise", (text, extraUs) => {
    expect(read.get(text)).toBe(at("2026-05-21T08:00:00Z", extraUs));
  });

  test.each(otherTimes)("%s is no ISO 8601", (text) => {
    expect(read.get(text)).toBeNull();
  });

  test.each(countedTimes)("counted in %s keeps its fraction: %s", (_unit, text, extraUs) => {
    expect(read.get(text)).toBe(at("2026-05-21T08:00:00Z", extraUs));
  });

  test("counted with a decimal comma", async () => {
    const log = { text: "1779350400,5", time: { unit: "s" }, change: { decimal: "," } } as const;
    expect(await moments([log])).toEqual([at("2026-05-21T08:00:00.5Z")]);
  });

  test("without an offset goes by the log's zone, else by the facility's", async () => {
    const seoul = { zone: "Asia/Seoul" };
    expect(
      await moments(
        [
          { text: "2026-05-21 09:00:00" },
          { text: "2026-05-21 18:00:00", time: seoul },
          { text: "2026-01-21 09:00:00" },
        ],
        "Europe/Dublin",
      ),
    ).toEqual([at("2026-05-21T08:00:00Z"), at("2026-05-21T09:00:00Z"), at("2026-01-21T09:00:00Z")]);
    expect(await moments([{ text: "2026-05-21T09:00:00Z", time: seoul }])).toEqual([
      at("2026-05-21T09:00:00Z"),
    ]);
  });

  test("in an hour that the clocks skipped or showed twice is refused", async () => {
    const dublin: [string, number | null][] = [
      ["2026-03-29 00:59:59", at("2026-03-29T00:59:59Z")],
      ["2026-03-29 01:30:00", null],
      ["2026-03-29 02:00:00", at("2026-03-29T01:00:00Z")],
      ["2026-10-25 00:59:59", at("2026-10-24T23:59:59Z")],
      ["2026-10-25 01:30:00", null],
      ["2026-10-25 02:00:00", at("2026-10-25T02:00:00Z")],
    ];
    const times = await moments(dublin.map(([text]) => ({ text, time: { zone: "Europe/Dublin" } })));
    expect(times).toEqual(dublin.map(([, moment]) => moment));
  });

  test("goes by a pattern where the log has one of its own", async () => {
    const format = "%d/%m/%Y %H:%M:%S.%f";
    expect(
      await moments([
        { text: "21/05/2026 08:00:00.25", time: { format } },
        { text: "21/05/2026 09:00:00.25", time: { format, zone: "Europe/Dublin" } },
        { text: "21/05/2026 09:00:00 +0100", time: { format: "%d/%m/%Y %H:%M:%S %z" } },
        { text: "05-21-2026", time: { format } },
      ]),
    ).toEqual([
      at("2026-05-21T08:00:00.25Z"),
      at("2026-05-21T08:00:00.25Z"),
      at("2026-05-21T08:00:00Z"),
      null,
    ]);
  });

  test("is shifted by the clock's offset", async () => {
    const log = { text: "2026-05-21T08:00:00Z", change: { clockOffsetS: -32.000_001 } };
    expect(await moments([log])).toEqual([at("2026-05-21T07:59:28Z", -1)]);
  });
});
