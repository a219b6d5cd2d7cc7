import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { codedLabels, finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { confidenceLevel } from '../confidence-level.ts';
import { type TurnbullOptions, turnbullOfRows } from './turnbull.ts';
import { turnbullAt } from './turnbull-at.ts';
import { checkedIntervals, type IntervalCensoredData, type IntervalRows } from './turnbull-intervals.ts';

export interface TurnbullBootstrapOptions extends TurnbullOptions {
  /** Number of resamples; 1,000 unless told. */
  readonly resamples?: number | undefined;
  /** Seed of the random numbers; 1 unless told. The same seed gives the same result. */
  readonly seed?: number | undefined;
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
}

export interface TurnbullBootstrap {
  readonly times: readonly {
    readonly time: number;
    readonly survival: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  readonly resamples: number;
  /** Resamples whose estimate did not converge; they are counted in all the same. */
  readonly notConverged: number;
}

/**
 * Pointwise percentile limits for interval-censored survival at given times, by resampling clusters (rows, if
 * there are none) with replacement.
 *
 * Survival at t is taken with the mass of each interval at its upper end, the time by which the event has
 * been seen; it is the highest survival the estimate allows. The interval-censored estimate converges slower
 * than the square root of n, so the limits are approximate. Quantiles of the resamples interpolate between
 * order statistics.
 *
 * @throws StatisticsError as `turnbull`; `out-of-range` for fewer than 2 resamples or a level outside 0 to 1
 * @example turnbullBootstrap({ lower, upper }, [28, 84], { seed: 7 }).times.length // 2
 *
 * Source: Sun, Stat Med 2001;20:1249-1257; clusters: Field and Welsh, J R Stat Soc B 2007;69:369-390.
 */
export function turnbullBootstrap(
  data: IntervalCensoredData & { readonly cluster?: ArrayLike<string | number> | undefined },
  times: ArrayLike<number>,
  options: TurnbullBootstrapOptions = {},
): TurnbullBootstrap {
  const rows = checkedIntervals(data);
  const at = Array.from(finiteColumn('times', times));
  const n = rows.lower.length;
  const level = confidenceLevel(options.level);
  const resamples = options.resamples ?? 1_000;
  if (!(Number.isInteger(resamples) && resamples >= 2)) {
    throw new StatisticsError(
      'out-of-range',
      `resamples is ${resamples}; a whole number of 2 or more is needed`,
    );
  }
  const cluster = data.cluster && codedLabels('cluster', data.cluster, n);
  const clusters = cluster?.labels.length ?? n;
  const estimates = at.map(() => new Float64Array(resamples));
  const random = xoroshiro128plus(options.seed ?? 1);
  let notConverged = 0;
  for (let r = 0; r < resamples; r++) {
    const drawn = new Int32Array(clusters);
    for (let i = 0; i < clusters; i++) {
      const c = uniformInt(random, 0, clusters - 1);
      drawn[c] = (drawn[c] as number) + 1;
    }
    const found = turnbullOfRows(drawnRows(rows, cluster?.codes, drawn), options);
    if (!found.converged) notConverged++;
    for (const [a, { highest }] of turnbullAt(found, at).entries())
      (estimates[a] as Float64Array)[r] = highest;
  }
  const whole = turnbullAt(turnbullOfRows(rows, options), at);
  return {
    times: whole.map(({ time, highest }, a) => {
      const sorted = (estimates[a] as Float64Array).sort();
      return {
        time,
        survival: highest,
        lower: interpolated(sorted, (1 - level) / 2),
        upper: interpolated(sorted, (1 + level) / 2),
      };
    }),
    resamples,
    notConverged,
  };
}

function drawnRows(rows: IntervalRows, cluster: Int32Array | undefined, drawn: Int32Array): IntervalRows {
  const weight = rows.weight.map((w, i) => w * (drawn[cluster ? (cluster[i] as number) : i] as number));
  return { ...rows, weight };
}

function interpolated(sorted: Float64Array, p: number): number {
  const at = p * (sorted.length - 1);
  const below = sorted[Math.floor(at)] as number;
  const above = sorted[Math.ceil(at)] as number;
  return below + (at - Math.floor(at)) * (above - below);
}
