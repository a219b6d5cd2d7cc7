import { StatisticsError } from '../errors.ts';

/** Contributions of the rows of one estimate to it, and the clusters that the rows belong to. */
export interface ClusteredPart {
  readonly contributions: Float64Array;
  /** The estimate enters the combination with this factor. */
  readonly factor: number;
  readonly cluster: ArrayLike<string | number>;
}

/**
 * Variance of a combination of estimates whose rows share clusters: the sum over clusters of the square of what the
 * cluster contributes, over all the estimates together.
 *
 * @throws StatisticsError `length` unless each row has a label
 */
export function sharedVariance(parts: readonly ClusteredPart[]): number {
  const sums = new Map<string | number, number>();
  for (const [place, { contributions, factor, cluster }] of parts.entries()) {
    if (cluster.length !== contributions.length) {
      throw new StatisticsError(
        'length',
        `cluster[${place}] has ${cluster.length} labels; ${contributions.length} are needed`,
      );
    }
    for (const [i, value] of contributions.entries()) {
      const label = cluster[i] as string | number;
      sums.set(label, (sums.get(label) ?? 0) + factor * value);
    }
  }
  return [...sums.values()].reduce((sum, value) => sum + value * value, 0);
}
