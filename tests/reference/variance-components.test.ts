import { expect, test } from "vitest";
import { componentShares, twoWayComponents } from "../../src/statistics/two-way-components.ts";

function crossed(observed: readonly (readonly [first: number, second: number, value: number])[]) {
  return {
    length: observed.length,
    first: observed.map(([first]) => first),
    second: observed.map(([, second]) => second),
    value: observed.map(([, , value]) => value),
  };
}

// P. E. Shrout and J. L. Fleiss (1979), Psychol. Bull. 86, 420-428: six targets rated by four judges. Printed: mean squares of
// 11.24 between targets, 32.49 between judges and 1.02 for the rest; ICC(2,1) of 0.29. Provenance: from memory.
test("the ratings of Shrout and Fleiss have the components of their mean squares", () => {
  const ratings = [
    [9, 2, 5, 8],
    [6, 1, 3, 2],
    [8, 4, 6, 8],
    [7, 1, 2, 6],
    [10, 5, 6, 9],
    [6, 2, 4, 7],
  ];
  const observed = ratings.flatMap((row, i) => row.map((value, j) => [i, j, value] as const));
  const { first, second, rest } = twoWayComponents(crossed(observed))!;
  expect(rest).toBeCloseTo(1.02, 2);
  expect(first * 4 + rest).toBeCloseTo(11.24, 2);
  expect(second * 6 + rest).toBeCloseTo(32.49, 2);
  expect(first / (first + second + rest)).toBeCloseTo(0.29, 2);
});

// Library: the three quadratic forms and the traces that they expect, worked out with matrices in numpy 2.4.6. Invented data.
test("a table with gaps has the components that the traces of its quadratic forms give", () => {
  const observed = [
    [0, 0, 1],
    [0, 1, 0],
    [0, 2, 0],
    [1, 0, 1],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 1],
    [2, 2, 0],
    [2, 3, 1],
    [3, 1, 0],
    [3, 3, 0],
  ] as const;
  const { first, second, rest } = twoWayComponents(crossed(observed))!;
  expect(first).toBeCloseTo(0.0297619047619, 10);
  expect(second).toBeCloseTo(0.136904761905, 10);
  expect(rest).toBeCloseTo(0.136904761905, 10);
});

test("rows of 1, 2, 3 and 3, 4, 8 have components of 4, 2.5 and 1.5", () => {
  const observed = [
    [0, 0, 1],
    [0, 1, 2],
    [0, 2, 3],
    [1, 0, 3],
    [1, 1, 4],
    [1, 2, 8],
  ] as const;
  const { first, second, rest } = twoWayComponents(crossed(observed))!;
  expect([first, second, rest]).toEqual([expect.closeTo(4), expect.closeTo(2.5), expect.closeTo(1.5)]);
});

test("what does not repeat has no components, and negative ones count as none", () => {
  const apart = [
    [0, 0, 1],
    [1, 1, 0],
    [2, 2, 1],
  ] as const;
  expect(twoWayComponents(crossed(apart))).toBeNull();
  expect(componentShares({ first: 3, second: -1, rest: 1 })).toEqual({ first: 0.75, second: 0, rest: 0.25 });
  expect(componentShares({ first: 0, second: 0, rest: 0 })).toBeNull();
});
