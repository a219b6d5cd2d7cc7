import { StatisticsError } from '../../errors.ts';
import { inverseQuadraticForm } from '../../linear-algebra/cholesky.ts';
import { fitted } from './fitted.ts';
import { partialLikelihood } from './partial-likelihood.ts';
import { arrangeRows, type RiskSets } from './risk-sets.ts';
import { chiSquareTest } from './summary.ts';
import type { CoxModel, CoxTest } from './types.ts';
import { requireOption } from '../../option.ts';

export type TimeTransform = 'kaplan-meier' | 'identity' | 'rank' | 'log';

export interface ProportionalHazardsOptions {
  /** What the effect may be linear in; default `'kaplan-meier'`. */
  readonly transform?: TimeTransform | undefined;
  /** Covariates tested together, as the indicators of one category are; the others are tested alone. */
  readonly terms?: Readonly<Record<string, readonly string[]>> | undefined;
}

export interface ProportionalHazardsTest {
  readonly terms: readonly (CoxTest & { readonly name: string })[];
  readonly global: CoxTest;
  readonly transform: TimeTransform;
}

/**
 * Score test of proportional hazards: the fitted model is widened by covariate x g(time) for each
 * covariate, and the test is of those coefficients being 0, with the exact information of the wider
 * model at each event time (not the older one that takes the risk sets' variance as constant). It uses
 * the model-based information whether or not the model has clusters.
 *
 * g(t) is 1 - S(t-) with S the Kaplan-Meier curve of all rows together and without weights, the time, the
 * rank of the time among the exit times of all rows (ties share the mean rank), or its natural logarithm.
 *
 * Source: Grambsch and Therneau (1994), Biometrika 81:515, eq. 5, without their approximation.
 *
 * @throws StatisticsError `not-converged`; `out-of-range` for `'log'` with an event at time 0 or before
 * @example proportionalHazardsTest(model).terms[0].pValue // 0.8825
 */
export function proportionalHazardsTest(
  model: CoxModel,
  options: ProportionalHazardsOptions = {},
): ProportionalHazardsTest {
  const transform = options.transform ?? 'kaplan-meier';
  requireOption('transform', transform, ['kaplan-meier', 'identity', 'rank', 'log']);
  const { sets, beta, work } = fitted(model);
  const p = sets.p;
  const g = centredTransform(sets, model, transform);
  const plain = new Float64Array(p * p);
  const cross = new Float64Array(p * p);
  const square = new Float64Array(p * p);
  const score = new Float64Array(p);
  partialLikelihood(sets, model.ties, beta, work, undefined, (group, information, residual) => {
    const value = g[group] as number;
    for (let k = 0; k < p * p; k++) {
      const v = information[k] as number;
      plain[k] = (plain[k] as number) + v;
      cross[k] = (cross[k] as number) + value * v;
      square[k] = (square[k] as number) + value * value * v;
    }
    for (let j = 0; j < p; j++) score[j] = (score[j] as number) + value * (residual[j] as number);
  });
  const test = (columns: readonly number[]): CoxTest => {
    const size = p + columns.length;
    const information = new Float64Array(size * size);
    const u = new Float64Array(size);
    const block = (
      m: Float64Array,
      rows: readonly number[],
      cols: readonly number[],
      r0: number,
      c0: number,
    ) => {
      for (const [r, i] of rows.entries()) {
        for (const [c, j] of cols.entries()) information[(r0 + r) * size + c0 + c] = m[i * p + j] as number;
      }
    };
    const all = Array.from({ length: p }, (_, j) => j);
    block(plain, all, all, 0, 0);
    block(cross, all, columns, 0, p);
    block(cross, columns, all, p, 0);
    block(square, columns, columns, p, p);
    for (const [k, j] of columns.entries()) u[p + k] = score[j] as number;
    const statistic = inverseQuadraticForm(information, u);
    if (statistic === undefined) {
      throw new StatisticsError(
        'collinear-covariates',
        `too few event times to test ${columns.map(j => sets.names[j]).join(', ')} for a trend in time`,
      );
    }
    return chiSquareTest(statistic, columns.length);
  };
  return {
    terms: groupedTerms(sets.names, options.terms).map(({ name, columns }) => ({ name, ...test(columns) })),
    global: test(Array.from({ length: p }, (_, j) => j)),
    transform,
  };
}

function groupedTerms(
  names: readonly string[],
  grouped: Readonly<Record<string, readonly string[]>> = {},
): { name: string; columns: number[] }[] {
  const termOf = new Map<string, string>();
  for (const [term, covariates] of Object.entries(grouped)) {
    for (const covariate of covariates) {
      if (!names.includes(covariate)) {
        throw new StatisticsError(
          'unknown-option',
          `terms.${term} names ${covariate}; the model has ${names.join(', ')}`,
        );
      }
      termOf.set(covariate, term);
    }
  }
  const terms = new Map<string, number[]>();
  for (const [j, name] of names.entries()) {
    const term = termOf.get(name) ?? name;
    terms.set(term, [...(terms.get(term) ?? []), j]);
  }
  return [...terms].map(([name, columns]) => ({ name, columns }));
}

/** g at the time of each group that has events, less its mean over events. */
function centredTransform(sets: RiskSets, model: CoxModel, transform: TimeTransform): Float64Array {
  const { groups, groupTime, groupDeaths, events } = sets;
  const value = transformOf(model, transform);
  const g = new Float64Array(groups);
  let sum = 0;
  for (let group = 0; group < groups; group++) {
    if (groupDeaths[group] === 0) continue;
    g[group] = value(groupTime[group] as number);
    sum += (groupDeaths[group] as number) * (g[group] as number);
  }
  return g.map(x => x - sum / events);
}

function transformOf(model: CoxModel, transform: TimeTransform): (time: number) => number {
  if (transform === 'identity') return time => time;
  if (transform === 'log') {
    return time => {
      if (time > 0) return Math.log(time);
      throw new StatisticsError(
        'out-of-range',
        `an event is at time ${time}; the log transform needs times above 0`,
      );
    };
  }
  const values = new Map<number, number>();
  const { n, groups, groupTime, groupEnd, groupDeaths, entryTime } = arrangeRows({
    ...model.data,
    strata: undefined,
    weight: undefined,
  });
  // Up in time; rows at risk are those that have not exited less those that have not entered.
  let survival = 1;
  for (let group = groups - 1; group >= 0; group--) {
    const deaths = groupDeaths[group] as number;
    if (deaths === 0) continue;
    const time = groupTime[group] as number;
    const first = group === 0 ? 0 : (groupEnd[group - 1] as number);
    const end = groupEnd[group] as number;
    values.set(time, transform === 'rank' ? n - (first + end - 1) / 2 : 1 - survival);
    const notEntered = entryTime === undefined ? 0 : countAtLeast(entryTime, time);
    survival *= 1 - deaths / (end - notEntered);
  }
  return time => values.get(time) ?? 0;
}

/** How many of the descending times are at or after `time`. */
function countAtLeast(descending: Float64Array, time: number): number {
  let low = 0;
  let high = descending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((descending[middle] as number) >= time) low = middle + 1;
    else high = middle;
  }
  return low;
}
