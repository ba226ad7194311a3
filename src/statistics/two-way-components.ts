/** Observations in columns: the value of each, and its class, numbered from 0, in each of two crossed classifications. */
export interface CrossedValues {
  length: number;
  value: ArrayLike<number>;
  first: ArrayLike<number>;
  second: ArrayLike<number>;
}

/** Variances: between the classes of each classification, and of what neither explains. */
export interface VarianceComponents {
  first: number;
  second: number;
  rest: number;
}

/**
 * How much of a variance lies between the classes of two crossed classifications, by moments: observed sums of squares are
 * set equal to what the model of two independent effects and a rest expects of them.
 *
 * Each pair of classes has at most one observation; pairs may be missing. Estimates may be negative. Null where a
 * classification has fewer than two classes, where no class has more than one observation, or where the design cannot tell
 * the effects apart. With N observations in a and b classes, T0 the sum of squares, TA and TB the sums of squared class
 * totals over class sizes, and Tm the squared grand total over N, the equations are those of TA - Tm, TB - Tm and
 * T0 - TA - TB + Tm. Where every pair has one observation they are the mean squares of the two-way table.
 *
 * Source: C. R. Henderson (1953), Biometrics 9, 226-252, method 1; from memory. Example: rows 1, 2, 3 and 3, 4, 8: between
 * rows 4, between columns 2.5, rest 1.5.
 */
export function twoWayComponents(values: CrossedValues): VarianceComponents | null {
  const first = classSums(values, values.first);
  const second = classSums(values, values.second);
  const n = values.length;
  if (first.classes < 2 || second.classes < 2 || first.classes === n || second.classes === n) return null;
  let total = 0;
  let squares = 0;
  for (let i = 0; i < n; i += 1) {
    const value = values.value[i]!;
    total += value;
    squares += value * value;
  }
  const mean = (total * total) / n;
  const evenFirst = n - first.sizeSquares / n;
  const evenSecond = n - second.sizeSquares / n;
  const [a, b] = [first.classes, second.classes];
  // Each row: the factors of the first, the second and the rest component, then the observed figure.
  const solved = solve3([
    [evenFirst, a - second.sizeSquares / n, a - 1, first.squares - mean],
    [b - first.sizeSquares / n, evenSecond, b - 1, second.squares - mean],
    [
      first.sizeSquares / n - b,
      second.sizeSquares / n - a,
      n - a - b + 1,
      squares - first.squares - second.squares + mean,
    ],
  ]);
  return solved === null ? null : { first: solved[0], second: solved[1], rest: solved[2] };
}

/** A component below this share of the others' sum is a rounding of 0. */
const negligible = 1e-12;

/**
 * Components as shares of their sum, negative ones taken as 0; null where none is above 0.
 * Example: 3, -1 and 1 are shares of 0.75, 0 and 0.25.
 */
export function componentShares({ first, second, rest }: VarianceComponents): VarianceComponents | null {
  const sizes = [first, second, rest].reduce((sum, part) => sum + Math.abs(part), 0);
  const parts = [first, second, rest].map((part) => (part <= negligible * sizes ? 0 : part));
  const sum = parts.reduce((all, part) => all + part, 0);
  if (sum === 0) return null;
  return { first: parts[0]! / sum, second: parts[1]! / sum, rest: parts[2]! / sum };
}

function classSums({ length, value }: CrossedValues, classOf: ArrayLike<number>) {
  let most = -1;
  for (let i = 0; i < length; i += 1) most = Math.max(most, classOf[i]!);
  const sizes = new Float64Array(most + 1);
  const totals = new Float64Array(most + 1);
  for (let i = 0; i < length; i += 1) {
    sizes[classOf[i]!]! += 1;
    totals[classOf[i]!]! += value[i]!;
  }
  let classes = 0;
  let squares = 0;
  let sizeSquares = 0;
  sizes.forEach((n, one) => {
    if (n === 0) return;
    classes += 1;
    squares += (totals[one]! * totals[one]!) / n;
    sizeSquares += n * n;
  });
  return { classes, squares, sizeSquares };
}

type Equation = [number, number, number, number];

/** Three equations by elimination with the largest pivot; null where they do not settle all three. */
function solve3(equations: [Equation, Equation, Equation]): [number, number, number] | null {
  const rows = equations.map((row) => [...row]);
  const scale = Math.max(...rows.flatMap((row) => row.slice(0, 3).map(Math.abs)));
  for (let column = 0; column < 3; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < 3; row += 1) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    if (Math.abs(rows[pivot]![column]!) <= 1e-9 * scale) return null;
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    for (let row = 0; row < 3; row += 1) {
      if (row === column) continue;
      const factor = rows[row]![column]! / rows[column]![column]!;
      for (let i = column; i < 4; i += 1) rows[row]![i]! -= factor * rows[column]![i]!;
    }
  }
  return [rows[0]![3]! / rows[0]![0]!, rows[1]![3]! / rows[1]![1]!, rows[2]![3]! / rows[2]![2]!];
}
