import { describe, expect, it } from "vitest";
import { randomStream } from "../../demonstration/random-stream.ts";

const draws = (label: string, count: number) => {
  const stream = randomStream(label);
  return Array.from({ length: count }, () => stream.uniform());
};

describe("the generator's chance", () => {
  it("gives the same numbers for the same label and others for another", () => {
    expect(draws("dock", 20)).toEqual(draws("dock", 20));
    expect(draws("dock", 20)).not.toEqual(draws("duck", 20));
  });

  it("is even enough to invent data with", () => {
    const uniforms = draws("even", 20000);
    const tenths = Array.from({ length: 10 }, () => 0);
    for (const value of uniforms) tenths[Math.floor(value * 10)]! += 1;
    // Six standard deviations of a count of 20000 at 1 in 10.
    for (const count of tenths) expect(Math.abs(count - 2000)).toBeLessThan(6 * Math.sqrt(1800));
  });

  it("has normal numbers of mean 0 and variance 1", () => {
    const stream = randomStream("normal");
    const values = Array.from({ length: 20000 }, () => stream.normal());
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
    expect(Math.abs(mean)).toBeLessThan(0.05);
    expect(Math.abs(variance - 1)).toBeLessThan(0.06);
  });

  it("shuffles without losing or doubling anything", () => {
    const list = Array.from({ length: 50 }, (_, i) => i);
    const shuffled = randomStream("shuffle").shuffled(list);
    expect(shuffled).not.toEqual(list);
    expect([...shuffled].sort((a, b) => a - b)).toEqual(list);
  });
});
