import type { Limit } from "../../intervals/interval.ts";

/** Nobody walks on for longer: further presentations, passes or minutes. */
export const mostFurther = 1e7;

/** Whether a value lies on the wrong side of its limit, or on it. */
export function isOnWrongSide(value: number, { sense, limit }: Limit): boolean {
  return sense === "at-least" ? value <= limit : value >= limit;
}
