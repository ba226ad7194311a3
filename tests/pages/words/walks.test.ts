import { describe, expect, it } from "vitest";
import type { CellOfPlan, CellState } from "../../../src/model/result/plan.ts";
import {
  anyPlanned,
  cellText,
  openSentence,
  plannedSentence,
  soFarSentence,
  walkedSentence,
} from "../../../src/pages/words/walks.ts";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");
const conditions = [
  { column: "speed", label: "Speed", unit: "m/s", bands: [0, 1, 2] },
  { column: "load", label: "Load", unit: null, bands: null },
];

function cell(state: CellState, done: number, planned: number | null, speed = "1"): CellOfPlan {
  return { conditions: { speed, load: "full" }, planned, done, tagsDone: done * 40, state };
}

describe("planned against done in words", () => {
  it("counts the passes walked, and the combinations that need more", () => {
    const cells = [
      cell("done", 14, 14),
      cell("short", 12, 14),
      cell("missing", 0, 14),
      cell("missing", 0, 14),
    ];
    expect(walkedSentence(cells)).toBe(
      "26 of 56 planned passes are walked; three of four combinations need more.",
    );
    expect(soFarSentence(cells)).toBe("So far 26 of 56 passes are walked.");
  });

  it("says at once where all passes or none are walked", () => {
    expect(walkedSentence([cell("done", 14, 14), cell("done", 20, 14)])).toBe(
      "All 28 planned passes are walked.",
    );
    expect(walkedSentence([cell("missing", 0, 20)])).toBe("None of the 20 planned passes is walked.");
    expect(soFarSentence([cell("missing", 0, 20)])).toBe("");
  });

  it("never lets one combination walked too often stand in for another", () => {
    expect(walkedSentence([cell("done", 40, 14), cell("missing", 0, 14)])).toMatch(
      /^14 of 28 planned passes are walked; one of two combinations needs more\.$/,
    );
  });

  it("leaves out what no criterion asks for, and says where nothing can be planned", () => {
    const asked = [cell("done", 3, 3), cell("not-asked", 9, 0), cell("not-asked", 0, 0)];
    expect(walkedSentence(asked)).toBe("All 3 planned passes are walked.");
    expect(walkedSentence([cell("not-asked", 1, 0)])).toBe("No planned pass counts for a criterion.");
    expect(walkedSentence([cell("out-of-reach", 4, null)])).toMatch(/^No number of passes is likely/);
    expect(anyPlanned([cell("not-asked", 1, 0), cell("out-of-reach", 4, null)])).toBe(false);
  });

  it("says of how many no number of passes will do, beside those that can be walked", () => {
    const cells = [cell("short", 1, 6), cell("out-of-reach", 4, null), cell("out-of-reach", 0, null)];
    expect(walkedSentence(cells)).toBe(
      "1 of 6 planned passes are walked; one of three combinations needs more. For two combinations no number of passes is likely to be enough.",
    );
    expect(walkedSentence(cells.slice(0, 2))).toMatch(/For one combination no number of passes/);
    expect(anyPlanned(cells)).toBe(true);
  });

  it("tells how much is planned in all, and of no read point where nothing is", () => {
    const none = { cells: [cell("out-of-reach", 4, null)] };
    const some = { cells: [cell("done", 6, 6), cell("missing", 0, 7)] };
    expect(plannedSentence([none, some])).toBe("13 passes are planned at one read point.");
    expect(plannedSentence([some, some])).toBe("26 passes are planned at two read points.");
    expect(plannedSentence([none])).toBe("");
  });

  it("names what is open, worst first, and only so many", () => {
    const speeds = ["1", "2", "3", "4", "5", "6"];
    const cells = [cell("short", 1, 2, "0.5"), ...speeds.map((speed) => cell("missing", 0, 2, speed))];
    expect(plain(openSentence(cells, conditions))).toBe(
      "Missing: Speed 1 m/s, Load full; Speed 2 m/s, Load full; Speed 3 m/s, Load full; Speed 4 m/s, Load full; and two more. Short: Speed 0.5 m/s, Load full.",
    );
    expect(openSentence([cell("done", 2, 2)], conditions)).toBe("");
    expect(cellText({}, conditions)).toBe("all passes alike");
  });
});
