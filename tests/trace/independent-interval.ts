import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import type { Count } from "./recount.ts";

export interface Interval {
  value: number;
  lower: number;
  upper: number;
}

/** The 0.975 quantile of the normal distribution, as any table of it prints it. */
const at95 = 1.959963984540054;

/** E. B. Wilson (1927), JASA 22, 209-212, solved for the two roots, at any distance `z` from the middle. */
export function wilson(share: number, size: number, z = at95): Interval {
  const middle = (share + (z * z) / (2 * size)) / (1 + (z * z) / size);
  const half =
    (z / (1 + (z * z) / size)) * Math.sqrt((share * (1 - share)) / size + (z * z) / (4 * size * size));
  return {
    value: share,
    lower: share === 0 ? 0 : middle - half,
    upper: share === 1 ? 1 : middle + half,
  };
}

/** What passes count: each is one trial. */
export const ofPasses = ({ k, n }: Count) => wilson(k / n, n);

/** What presentations count: worth what the method page says they are worth. */
export const ofPresentations = (count: Count, correlation = 0.02) =>
  wilson(count.k / count.n, effectiveSize(count, correlation));

/**
 * Presentations that count as independent: E. L. Korn and B. I. Graubard (1998), with the two-way variance of A. C.
 * Cameron, J. B. Gelbach and D. L. Miller (2011), and never more than an assumed correlation allows. Written from the
 * residuals of single presentations, as the papers are.
 */
export function effectiveSize({ k, n, rows }: Count, correlation: number): number {
  const share = k / n;
  const dimensions = (["pass", "tag"] as const)
    .map((dimension) => {
      const clusters = new Map<string, typeof rows>();
      for (const row of rows) {
        const cluster = clusters.get(row[dimension]);
        if (cluster === undefined) clusters.set(row[dimension], [row]);
        else cluster.push(row);
      }
      return [...clusters.values()];
    })
    .filter((clusters) => clusters.some((cluster) => cluster.length > 1));
  const sizes = [n];
  for (const clusters of dimensions) {
    let squares = 0;
    for (const cluster of clusters) squares += cluster.length ** 2;
    sizes.push(n / (1 + (squares / n - 1) * correlation));
  }
  const scattered = dimensions.filter((clusters) => clusters.length > 1);
  if (k > 0 && k < n && scattered.length > 0) {
    const binomial = (share * (1 - share)) / n;
    const byCluster = scattered.map((clusters) => {
      let sum = 0;
      for (const cluster of clusters) {
        let residual = 0;
        for (const { read } of cluster) residual += (read ? 1 : 0) - share;
        sum += residual ** 2;
      }
      return (clusters.length / (clusters.length - 1)) * (sum / n ** 2);
    });
    const variances = [binomial, ...byCluster];
    if (byCluster.length === 2) variances.push(byCluster[0]! + byCluster[1]! - (binomial * n) / (n - 1));
    const freedom = Math.min(...scattered.map(({ length }) => length)) - 1;
    const correction = (tQuantile(0.975, n - 1) / tQuantile(0.975, freedom)) ** 2;
    sizes.push(((share * (1 - share)) / Math.max(...variances)) * correction);
  }
  return Math.min(...sizes);
}
