import { describe, expect, it } from "vitest";
import { changeOf } from "../../../src/analysis/comparison/difference.ts";

describe("what a difference amounts to", () => {
  it.each([
    [0.01, 0.07, "better"],
    [0.001, 0.003, "better"],
    [-0.07, -0.01, "worse"],
    [-0.003, 0.004, "no-change-that-matters"],
    [-0.005, 0.005, "no-change-that-matters"],
    [0, 0.02, "no-change-shown"],
    [-0.01, 0.02, "no-change-shown"],
  ])("%d to %d is %s where 0.005 matters", (lower, upper, change) => {
    expect(changeOf({ lower, upper }, 0.005)).toBe(change);
  });
});
