import { expect, it } from "vitest";
import { walkSessions } from "../../src/intake/pass-log/pass-windows.ts";
import type { FacilityLogs } from "../../src/intake/pass-log/read.ts";

it("a session lasts from its first pass to its last, of however many passes", () => {
  const passes = Array.from({ length: 200_000 }, () => ({ readPoint: 0, round: 0 }));
  const windows = passes.map((_, pass) => ({
    pass,
    readPoint: "door",
    fromUs: pass * 10,
    toUs: pass * 10 + 4,
  }));
  const logs = { passes, facility: { readPoints: [{ id: "door" }], rounds: [{}] } };
  expect(walkSessions(windows.toReversed(), logs as unknown as FacilityLogs)).toEqual([
    { readPoint: "door", round: 0, fromUs: 0, toUs: 1_999_994, walkedUs: 800_000 },
  ]);
});
