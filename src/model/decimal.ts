const decimal = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

/** A number as people write it, with a decimal point and nothing around it; NaN for anything else. */
export function decimalOf(text: string): number {
  return decimal.test(text) ? Number(text) : Number.NaN;
}
