/** How many random cases a test draws: a few in the suite, as many times more as DRAWS says on a night without hurry. */
export function draws(few: number): number {
  return few * Number(process.env.DRAWS ?? 1);
}
