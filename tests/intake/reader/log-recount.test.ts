import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { draws } from "../../draws.ts";
import { codeA, codeB, counts, header, heard, readFiles, row, spec, startUs, window } from "./log-folder.ts";

const readPoint = { kind: "column" as const, column: "reader", values: { "R-1": "dock-1", "R-2": "dock-2" } };
const pointOf = new Map(Object.entries(readPoint.values));
const windows = [
  window,
  { ...window, pass: 1, fromUs: startUs + 20_000_001, toUs: startUs + 20_500_000 },
  { ...window, pass: 2, readPoint: "dock-2" },
];

const session = (readPoint: string, fromS: number, toS: number, round = 0) => ({
  readPoint,
  round,
  fromUs: startUs + fromS * 1_000_000,
  toUs: startUs + toS * 1_000_000,
  walkedUs: 0,
});
/** From one minute to the next but one, and as the windows have it, two rounds at the first read point overlapping. */
const wide = [session("dock-1", -60, 120), session("dock-2", -60, 120)];
const tight = [
  session("dock-1", 10, 20.5),
  session("dock-1", 12.5, 22, 1),
  session("dock-2", 9.5, 20.000_001),
];

interface Row {
  halfSecond: number;
  epc: string;
  antenna: string;
  rssi: string;
  count: string;
  reader: string;
  shape: "plain" | "short" | "comment" | "blank" | "quoted" | "open quote";
}

const rows = fc.array(
  fc.record({
    halfSecond: fc.integer({ min: 16, max: 46 }),
    epc: fc.constantFrom(codeA, codeB, codeA.toLowerCase(), "", "3.08E+23"),
    antenna: fc.constantFrom("1", "2", ""),
    rssi: fc.constantFrom("-61.5", "-70", "", "loud", "12"),
    count: fc.constantFrom("1", "3", "0", ""),
    reader: fc.constantFrom("R-1", "R-2", "R-9"),
    shape: fc.constantFrom(
      "plain",
      "plain",
      "plain",
      "plain",
      "short",
      "comment",
      "blank",
      "quoted",
      "open quote",
    ),
  }) as fc.Arbitrary<Row>,
  { maxLength: 60 },
);

function lineOf({ halfSecond, epc, antenna, rssi, count, reader, shape }: Row): string {
  const fields = [String(startUs + halfSecond * 500_000), epc, antenna, rssi, count, reader];
  if (shape === "short") return fields.slice(0, 3).join(",");
  if (shape === "comment") return `# ${fields.join(",")}`;
  if (shape === "blank") return "";
  if (shape === "quoted") return fields.map((field) => `"${field}"`).join(",");
  if (shape === "open quote") return fields.join(',"');
  return fields.join(",");
}

/** The same, counted one line after another; what stands in an earlier log too is a repeat. */
function recount(logs: readonly Row[][], sessions: typeof wide) {
  const seen = new Set<string>();
  const tags = new Map<string, { reads: number; rssi: number; first: number; last: number }>();
  const idle = new Map<string, { reads: number; tags: Set<string> }>();
  const weakest = new Map<string, number>();
  const tallies = logs.map(() => ({ rows: 0, used: 0, repeated: 0, elsewhere: 0, refused: 0 }));
  const all = logs.flatMap((log, i) => log.map((each) => ({ ...each, tally: tallies[i]! })));
  for (const { halfSecond, epc, antenna, rssi, count, reader, shape, tally } of all) {
    if (shape === "comment" || shape === "blank") continue;
    tally.rows += 1;
    const isOdd =
      shape === "short" || shape === "open quote" || rssi === "loud" || rssi === "12" || count === "0";
    if (isOdd || epc === "" || epc === "3.08E+23") {
      tally.refused += 1;
      continue;
    }
    const point = pointOf.get(reader);
    if (point === undefined) {
      tally.elsewhere += 1;
      continue;
    }
    const reads = count === "" ? 1 : Number(count);
    const key = [halfSecond, epc, antenna, rssi, reads, reader].join();
    if (seen.has(key)) {
      tally.repeated += 1;
      continue;
    }
    seen.add(key);
    tally.used += 1;
    if (rssi !== "") weakest.set(point, Math.min(weakest.get(point) ?? 0, Number(rssi) * 100));
    const t = startUs + halfSecond * 500_000;
    const pass = windows.find(
      ({ readPoint, fromUs, toUs }) => readPoint === point && t >= fromUs && t <= toUs,
    );
    const code = epc.toUpperCase();
    if (pass === undefined) {
      for (const [index, { readPoint, fromUs, toUs }] of sessions.entries()) {
        if (readPoint !== point || t < fromUs || t > toUs) continue;
        const minute = `${index} ${Math.floor(t / 6e7)}`;
        const entry = idle.get(minute) ?? { reads: 0, tags: new Set() };
        entry.reads += reads;
        entry.tags.add(code);
        idle.set(minute, entry);
      }
      continue;
    }
    const tag = `${pass.pass} ${code} ${antenna || "-"}`;
    const level = rssi === "" ? -2147483648 : Number(rssi) * 100;
    const entry = tags.get(tag) ?? { reads: 0, rssi: level, first: halfSecond / 2, last: halfSecond / 2 };
    entry.reads += reads;
    entry.rssi = Math.max(entry.rssi, level);
    entry.first = Math.min(entry.first, halfSecond / 2);
    entry.last = Math.max(entry.last, halfSecond / 2);
    tags.set(tag, entry);
  }
  return {
    heard: [...tags]
      .map(([tag, each]) => `${tag} ${each.reads} ${each.rssi} ${each.first} ${each.last}`)
      .sort(),
    idle: [...idle].map(([minute, each]) => `${minute} ${each.reads} ${each.tags.size}`).sort(),
    weakest: [...weakest].map(([point, level]) => `${point} ${level}`).sort(),
    counts: tallies.map(
      (tally) => `${tally.rows} = ${tally.used} + ${tally.repeated} + ${tally.elsewhere} + ${tally.refused}`,
    ),
  };
}

describe("whatever is in logs,", () => {
  test("the counts are those of a reading one line after another, with one thread or two, as typed columns or line by line", async () => {
    await fc.assert(
      fc.asyncProperty(
        // A reading costs as much as many logs in it: few readings of a few logs each see more than many of one.
        fc.array(fc.record({ log: rows, lineEnd: fc.constantFrom("\n", "\r\n"), isInOrder: fc.boolean() }), {
          minLength: 1,
          maxLength: 4,
        }),
        fc.constantFrom(1, 2),
        fc.constantFrom(wide, tight),
        fc.constantFrom(0, 1 << 20),
        async (drawn, threads, sessions, largeBytes) => {
          const logs = drawn.map(({ log, isInOrder }) =>
            isInOrder ? [...log].sort((a, b) => a.halfSecond - b.halfSecond) : log,
          );
          const texts = logs.map((log, i): [string, string] => [
            `log-${i}.csv`,
            [`${header},reader`, ...log.map(lineOf)].join(drawn[i]!.lineEnd),
          ]);
          const files = texts.map(([name]) => name);
          const outcome = await readFiles(Object.fromEntries(texts), [spec({ files, readPoint })], windows, {
            threads,
            sessions,
            largeBytes,
          });
          const idle = outcome.logs.idle.map(
            (each) => `${each.session} ${each.minute} ${each.reads} ${each.tags}`,
          );
          const weakest = outcome.logs.weakest.map(({ readPoint: point, rssi }) => `${point} ${rssi}`);
          expect({
            heard: heard(outcome).sort(),
            idle: idle.sort(),
            weakest: weakest.sort(),
            counts: counts(outcome),
          }).toEqual(recount(logs, sessions));
        },
      ),
      { numRuns: draws(6), seed: 7 },
    );
  }, 120_000);

  test("rows behind a quote that is never closed are counted, in whichever of several logs", async () => {
    const good = [startUs, codeA, "1", "-61.5", "1", "R-1"];
    const text = (...lines: string[]) => [`${header},reader`, ...lines].join("\n");
    const [first, open] = [text(good.join(",")), text(good.join(',"'), good.join(","))];
    const none = text();
    for (const [logs, expected] of [
      [
        [first, none, open],
        ["1 = 1 + 0 + 0 + 0", "0 = 0 + 0 + 0 + 0", "2 = 0 + 1 + 0 + 1"],
      ],
      [
        [first, open, first],
        ["1 = 1 + 0 + 0 + 0", "2 = 0 + 1 + 0 + 1", "1 = 0 + 1 + 0 + 0"],
      ],
    ] as const) {
      const texts = Object.fromEntries(logs.map((log, i) => [`${i}.csv`, log]));
      const specs = [spec({ files: Object.keys(texts), readPoint })];
      for (const largeBytes of [0, 1 << 20])
        expect(counts(await readFiles(texts, specs, windows, { largeBytes }))).toEqual(expected);
    }
  });

  test("the result is the same to the byte with one thread and with two", async () => {
    const log = Array.from({ length: 250_000 }, (_, index) => {
      const code = `3034${String((index * 7919) % 97).padStart(20, "0")}`;
      return row(
        5 + ((index * 31) % 60_000) / 1000,
        code,
        String(1 + (index % 4)),
        `-${50 + (index % 23)}.${index % 10}`,
      );
    });
    // A code so rare that no sample of the file needs to hold it.
    log.push(row(12, codeB), row(12, codeB));
    log.splice(123_457, 0, row(13, codeB));
    const text = `${header}\n${log.join("\n")}\n`;
    const [one, two] = [
      await readFiles({ "log.csv": text }, [spec()], [window], { threads: 1 }),
      await readFiles({ "log.csv": text }, [spec()], [window], { threads: 2 }),
    ];
    expect(two).toEqual(one);
    expect(heard(one)).toContain(`0 ${codeB} 1 2 -6150 12 13`);
    const [file] = one.logs.files;
    expect(file!.rows).toBe(250_003);
    expect(new Set(log).size).toBe(file!.used);
    expect(file!.used + file!.repeated).toBe(file!.rows);
  }, 120_000);
});
