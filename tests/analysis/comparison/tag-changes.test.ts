import { describe, expect, it } from "vitest";
import { compareRounds } from "../../../src/analysis/comparison/compare-rounds.ts";
import type { Condition, Round } from "../../../src/model/facility.ts";
import type { TagChanges } from "../../../src/model/result/comparison.ts";
import { type WalkedRow, walkedFacility } from "../walked.ts";

const round = (id: string): Round => ({ id, title: id, date: null, changes: null, settings: {} });
const load: Condition = { column: "load", label: "Load", unit: null, bands: null };

function tagsOf(rows: WalkedRow[], conditions: Condition[] = []): TagChanges | null {
  const rounds = [round("as-found"), round("as-left")];
  const found = compareRounds(walkedFacility({ rounds, conditions }, rows));
  expect(found.filter(({ group }) => group !== null).every(({ tags }) => tags === null)).toBe(true);
  return found.find(({ group }) => group === null)!.tags;
}

/** One letter a presentation: `r` read, `m` missed; each in a pass of its own. */
const walk = (id: string, tag: string, outcomes: string, said: Partial<WalkedRow> = {}): WalkedRow[] =>
  [...outcomes].map((outcome, i) => ({ round: id, pass: `${i}`, tag, read: outcome === "r", ...said }));

describe("the tags of two rounds", () => {
  it("are newly missed and newly read as in the worked example", () => {
    const tags = tagsOf([
      ...walk("as-found", "A", "rr"),
      ...walk("as-found", "B", "mm"),
      ...walk("as-left", "A", "rmr"),
      ...walk("as-left", "B", "rrr"),
    ]);
    expect(tags).toEqual({
      inBoth: 2,
      missedInBoth: 0,
      newlyMissed: [
        { tag: "A", uri: null, before: { presented: 2, missed: 0 }, after: { presented: 3, missed: 1 } },
      ],
      newlyRead: [
        { tag: "B", uri: null, before: { presented: 2, missed: 2 }, after: { presented: 3, missed: 0 } },
      ],
    });
  });

  it("are listed most often missed first, then fewest presented, then by code point", () => {
    const names = ["D", "C", "B", "A"];
    const outcomes: Record<string, string> = { A: "mr", B: "mmr", C: "mr", D: "mrr" };
    const tags = tagsOf(
      names.flatMap((tag) => [...walk("as-found", tag, "r"), ...walk("as-left", tag, outcomes[tag]!)]),
    );
    expect(tags!.newlyMissed.map(({ tag }) => tag)).toEqual(["B", "A", "C", "D"]);
  });

  it("count as missed in both where both rounds missed them, however often", () => {
    const tags = tagsOf([...walk("as-found", "A", "mmmr"), ...walk("as-left", "A", "rrrm")]);
    expect(tags).toEqual({ inBoth: 1, missedInBoth: 1, newlyMissed: [], newlyRead: [] });
  });

  it("are no change where only one round presented them, or a pass was void", () => {
    const tags = tagsOf([
      ...walk("as-found", "A", "r"),
      ...walk("as-found", "B", "m"),
      ...walk("as-left", "A", "r"),
      ...walk("as-left", "C", "m"),
      { round: "as-left", pass: "spoiled", tag: "A", read: false, void: "fork lift in the way" },
    ]);
    expect(tags).toEqual({ inBoth: 1, missedInBoth: 0, newlyMissed: [], newlyRead: [] });
  });

  it("are counted only under the conditions that both rounds walked", () => {
    const under = (value: string) => ({ columns: { load: value } });
    const tags = tagsOf(
      [
        ...walk("as-found", "A", "r", under("half")),
        ...walk("as-left", "A", "r", under("half")),
        { round: "as-left", pass: "9", tag: "A", read: false, ...under("full") },
      ],
      [load],
    );
    expect(tags).toEqual({ inBoth: 1, missedInBoth: 0, newlyMissed: [], newlyRead: [] });
  });

  it("are not known where a log counts tags without naming them, or nothing can be compared", () => {
    const named = walk("as-found", "A", "r");
    expect(tagsOf([...named, { round: "as-left", pass: "1", tally: { presented: 2, read: 1 } }])).toBeNull();
    expect(tagsOf(named)).toBeNull();
  });
});
