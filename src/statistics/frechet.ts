/**
 * Between which shares the joint probability of several events lies, however they depend on each other.
 *
 * `rates` are the probabilities of the single events, 0..1, one or more of them. With m of them: lower = max(0, sum - (m - 1)),
 * upper = the smallest. Both ends can be reached. One event alone has its own probability as both.
 * Source: Fréchet, Généralisation du théorème des probabilités totales, Fundamenta Mathematicae 25 (1935) (from memory).
 * Worked example: 0.99, 0.98 and 0.97 give 0.94 and 0.97.
 */
export function chainBounds(rates: readonly number[]): { lower: number; upper: number } {
  const sum = rates.reduce((total, rate) => total + rate, 0);
  return { lower: Math.max(0, sum - (rates.length - 1)), upper: Math.min(...rates) };
}
