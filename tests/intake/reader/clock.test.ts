import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestShift, type ClockInput } from "../../../src/intake/pass-log/reader-clock.ts";
import { clockShifted } from "../../../src/intake/problems/reader-log.ts";

/** Passes with irregular pauses, and reads that fill each of them on a clock that is wrong by `lateS`. */
function walk(pauses: number[], lateS: number, lengthS = 8): ClockInput {
  const windows: { fromS: number; toS: number }[] = [];
  const reads: { atS: number; count: number }[] = [];
  let atS = 1_779_350_400;
  for (const pause of pauses) {
    atS += pause;
    windows.push({ fromS: atS - 0.5, toS: atS + lengthS + 1 });
    for (let i = 0; i <= lengthS * 4; i += 1) reads.push({ atS: atS + i / 4 + lateS, count: 3 });
    atS += lengthS;
  }
  return { windows, reads };
}

const pauses = fc.array(fc.integer({ min: 15, max: 240 }), { minLength: 12, maxLength: 60 });

/** The pauses of a person: never an even beat, which fits again one beat later. */
const uneven = pauses.filter((list) => new Set(list).size >= Math.min(list.length - 2, 10));

const lateness = fc.oneof(
  fc.integer({ min: 20, max: 600 }),
  fc.integer({ min: -600, max: -20 }),
  fc
    .integer({ min: -14, max: 14 })
    .filter((hours) => hours !== 0)
    .map((hours) => hours * 3600),
  fc.integer({ min: -50_000, max: 50_000 }).filter((late) => Math.abs(late) > 20),
);

describe("a reader's clock that is wrong by a constant", () => {
  it("is found to within a second, from a few seconds to a time zone", () => {
    fc.assert(
      fc.property(uneven, lateness, (list, lateS) => {
        const shift = bestShift(walk(list, lateS));
        expect(shift).not.toBeNull();
        expect(Math.abs(shift!.shiftS + lateS)).toBeLessThanOrEqual(1);
        expect(shift!.insideShifted).toBe(shift!.total);
      }),
      { numRuns: 40 },
    );
  });

  it("is found from reads counted by second too", () => {
    fc.assert(
      fc.property(uneven, lateness, (list, lateS) => {
        const made = walk(list, lateS);
        const bySecond = new Map<number, number>();
        for (const read of made.reads) {
          const second = Math.floor(read.atS);
          bySecond.set(second, (bySecond.get(second) ?? 0) + read.count);
        }
        const reads = [...bySecond].map(([second, count]) => ({ atS: second + 0.5, count }));
        const shift = bestShift({ windows: made.windows, reads });
        expect(shift).not.toBeNull();
        expect(Math.abs(shift!.shiftS + lateS)).toBeLessThanOrEqual(1.5);
      }),
      { numRuns: 20 },
    );
  });

  it("is found though a third of the reads belong to no pass", () => {
    const made = walk([30, 45, 61, 22, 118, 40, 75, 33, 52, 97, 28, 64], 32);
    const firstS = made.windows[0]!.fromS;
    const idle = Array.from({ length: 200 }, (_, i) => ({ atS: firstS + i * 4, count: 3 }));
    const shift = bestShift({ windows: made.windows, reads: [...made.reads, ...idle] });
    expect(Math.abs(shift!.shiftS + 32)).toBeLessThanOrEqual(1);
  });

  it("is told with how many reads fall inside now and would then: the example of the doc comment", () => {
    const windows = [100, 160, 250, 290, 400].map((fromS) => ({ fromS, toS: fromS + 10 }));
    const reads = windows.flatMap(({ fromS }) => [3, 5, 7].map((at) => ({ atS: fromS + at + 32, count: 1 })));
    expect(bestShift({ windows, reads })).toEqual({
      shiftS: -32,
      insideNow: 0,
      insideShifted: 15,
      total: 15,
    });
  });

  it("gives the same answer in any order of reads and passes", () => {
    const made = walk([30, 45, 61, 22, 118, 40, 75, 33, 52], -3600);
    const turned = { windows: [...made.windows].reverse(), reads: [...made.reads].reverse() };
    expect(bestShift(turned)).toEqual(bestShift(made));
  });
});

describe("no shift is suggested", () => {
  it("for a log that is aligned already", () => {
    fc.assert(
      fc.property(uneven, fc.double({ min: -0.4, max: 0.9, noNaN: true }), (list, lateS) => {
        expect(bestShift(walk(list, lateS))).toBeNull();
      }),
      { numRuns: 30 },
    );
  });

  it("for reads that come all the time", () => {
    const { windows } = walk([30, 45, 61, 22, 118, 40, 75, 33, 52, 97], 0);
    const firstS = windows[0]!.fromS - 600;
    const reads = Array.from({ length: 3000 }, (_, i) => ({ atS: firstS + i, count: 2 }));
    expect(bestShift({ windows, reads })).toBeNull();
  });

  it("for reads scattered without structure", () => {
    fc.assert(
      fc.property(
        uneven,
        fc.array(fc.integer({ min: -40_000, max: 40_000 }), { minLength: 5, maxLength: 400 }),
        (list, scattered) => {
          const { windows } = walk(list, 0);
          const reads = scattered.map((at) => ({ atS: windows[0]!.fromS + at, count: 1 }));
          expect(bestShift({ windows, reads })).toBeNull();
        },
      ),
      { numRuns: 40 },
    );
  });

  it("for passes in an exact rhythm, which fit again one beat later", () => {
    expect(bestShift(walk(Array(20).fill(52), 32))).toBeNull();
  });

  it("for fewer than five passes, no passes and no reads", () => {
    expect(bestShift(walk([30, 77, 45, 61], 32))).toBeNull();
    expect(bestShift({ windows: [], reads: [{ atS: 1, count: 1 }] })).toBeNull();
    expect(bestShift({ windows: walk([30, 77, 45, 61, 22, 19], 0).windows, reads: [] })).toBeNull();
  });
});

it("two hours are found among thousands of passes and weeks of reads", () => {
  const list = Array.from({ length: 6000 }, (_, i) => 20 + ((i * i * 31 + ((i * 7919) % 211)) % 173));
  const shift = bestShift(walk(list, -7200));
  expect(Math.abs(shift!.shiftS - 7200)).toBeLessThanOrEqual(1);
});

describe("what is said of a shifted clock", () => {
  const facts = {
    readPoint: "dock-1",
    insideNow: 12,
    insideShifted: 8900,
    total: 9000,
    statedOffsetS: 0,
    isShared: false,
  };

  it("that runs ahead is what to subtract and what to write", () => {
    const said = clockShifted.with({ ...facts, shiftS: -32 });
    expect(said.found).toBe(
      "at dock-1: 12 of 9000 reads fall inside passes; 8900 would if 32.0 s were subtracted from the reader's clock",
    );
    expect(said.advice).toContain("clock_offset_s: -32.0 ");
    expect(said.advice).toContain("Nothing was shifted.");
    expect(said.advice).not.toContain("zone");
  });

  it("that runs behind is what to add, beyond the offset that is stated", () => {
    const said = clockShifted.with({ ...facts, shiftS: 4.5, statedOffsetS: 10 });
    expect(said.found).toContain("if 4.5 s were added to the reader's clock");
    expect(said.advice).toContain("clock_offset_s: 14.5 ");
  });

  it("that is off by whole or half hours is that it looks like a time zone", () => {
    expect(clockShifted.with({ ...facts, shiftS: 3602.3 }).advice).toContain("so near to 1 h");
    expect(clockShifted.with({ ...facts, shiftS: -19800 }).advice).toContain("so near to 5.5 h");
  });
});
