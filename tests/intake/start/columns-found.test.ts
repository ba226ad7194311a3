import { describe, expect, it } from "vitest";
import {
  bandsOver,
  conditionOf,
  emptyColumn,
  noteCell,
  wordsOf,
} from "../../../src/intake/start/columns-found.ts";

const columnOf = (name: string, ...cells: string[]) => {
  const column = emptyColumn(name);
  for (const cell of cells) noteCell(column, cell, true);
  return column;
};

describe("bands over the numbers of a column", () => {
  it.each([
    [0.6, 1.9, [0.5, 1, 1.5, 2]],
    [0, 3, [0, 1, 2, 3]],
    [1.4, 1.4, [0, 2]],
    [-25, 4, [-30, -20, -10, 0, 10]],
    [0, 0, [0, 1]],
    [120, 900, [0, 500, 1000]],
  ])("from %d to %d have round edges that leave none out", (min, max, edges) => {
    expect(bandsOver({ min, max })).toEqual(edges);
  });
});

describe("a column that can be a condition", () => {
  it("is one of numbers, with decimal commas too, or one of few names that come again", () => {
    expect(conditionOf(columnOf("speed_m_s", "0,8", "1,9"), 2)?.bands).toEqual([0.5, 1, 1.5, 2]);
    expect(conditionOf(columnOf("load", "full", "half", "full", "half"), 4)).toMatchObject({
      label: "Load",
      bands: null,
    });
  });

  it.each([
    ["nothing", ["", " "]],
    ["notes", ["the cage tipped over", "curtain in the way"]],
    ["codes", ["331645AA3C00194000070001", "331645AA3C00194000070001"]],
    ["times", ["10:05", "10:05"]],
    ["running numbers", ["1", "2", "3", "4", "5", "6", "7", "8", "9"]],
  ])("is none that holds %s", (_, cells) => {
    expect(conditionOf(columnOf("other", ...cells), 9)).toBeNull();
  });

  it.each([
    ["speed_m_s", "Speed", "m/s"],
    ["Speed (km/h)", "Speed", "km/h"],
    ["Tag orientation", "Tag orientation", null],
    ["temperature_c", "Temperature", "°C"],
    ["class", "Class", null],
  ])("called %s has the label and unit that its name says", (name, label, unit) => {
    expect(wordsOf(name)).toEqual({ label, unit });
  });
});
