const decimal = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

/** A number as people write it, with a decimal point and nothing around it; NaN for anything else. */
export function decimalOf(text: string): number {
  return decimal.test(text) ? Number(text) : Number.NaN;
}

/** A percentage as a fraction, in decimal digits and without the dust of binary arithmetic. */
export function asFraction(percentage: number): string {
  return String(Number((percentage / 100).toPrecision(12)));
}
