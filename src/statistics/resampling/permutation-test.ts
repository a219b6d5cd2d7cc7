import { codedLabels, requireArgument, requireLength } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { randomStream } from './random.ts';
import { requireOption } from '../option.ts';

export interface PermutationData {
  /** The labels that are exchanged between rows, such as the group. */
  readonly group: ArrayLike<string | number>;
  /** Rows that keep one label together, such as the two feet of an infant; labels move between clusters. */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

export interface PermutationOptions {
  readonly permutations?: number | undefined;
  readonly seed: number;
  /** Which statistics count as extreme: as far from 0 either way (default), at least as large, or as small. */
  readonly alternative?: 'two-sided' | 'greater' | 'less' | undefined;
}

export interface PermutationTest {
  readonly statistic: number;
  readonly pValue: number;
  /** Standard error of the p-value from the finite number of permutations. */
  readonly standardError: number;
  readonly permutations: number;
}

/**
 * Permutation test: exchanges group labels at random between rows (or whole clusters) and reports how often the
 * statistic is at least as extreme as observed. The p-value counts the observed arrangement as one of them,
 * (1 + extreme)/(1 + permutations), so it is never 0 and the test is exact whatever the number. Equality is judged
 * with a relative slack of 1e-10, so that arrangements that tie with the observed one count.
 *
 * `statistic` is given the group codes (0, 1, ... in ascending order of the labels) row by row; the array is
 * overwritten between calls. For a two-sided test it must be centred on 0.
 *
 * Source: Davison & Hinkley, Bootstrap Methods and their Application, section 4.3; Phipson & Smyth, Stat Appl Genet
 * Mol Biol 2010;9:39.
 *
 * @throws StatisticsError `length`, `missing-value`; `one-group` for a single label; `out-of-range` for fewer than
 * 99 permutations, a cluster with two labels, or an undefined statistic; `unknown-option`
 * @example permutationTest({ group }, codes => codes.reduce((sum, code, row) => sum + code * time[row], 0), {
 *   seed: 1, permutations: 99 }).permutations // 99
 */
export function permutationTest(
  data: PermutationData,
  statistic: (codes: Int32Array) => number,
  options: PermutationOptions,
): PermutationTest {
  requireArgument('options', options);
  const { permutations = 9999, alternative = 'two-sided' } = options;
  if (!Number.isInteger(permutations) || permutations < 99) {
    throw new StatisticsError(
      'out-of-range',
      `permutations is ${permutations}; a whole number from 99 is needed`,
    );
  }
  requireOption('alternative', alternative, ['two-sided', 'greater', 'less']);
  const n = data.group.length;
  const { codes, labels } = codedLabels('group', data.group, n);
  if (labels.length < 2)
    throw new StatisticsError('one-group', 'group has one label; at least two are needed');
  const clusters = clusterCodes(data.cluster, n);
  const unitLabels = labelsOfUnits(codes, clusters);

  const observed = evaluate(statistic, Int32Array.from(codes));
  const slack = 1e-10 * Math.max(1, Math.abs(observed));
  const isExtreme = (value: number): boolean => {
    if (alternative === 'greater') return value >= observed - slack;
    if (alternative === 'less') return value <= observed + slack;
    return Math.abs(value) >= Math.abs(observed) - slack;
  };
  const random = randomStream(options.seed);
  const shuffled = new Int32Array(n);
  let extreme = 0;
  for (let round = 0; round < permutations; round++) {
    for (let i = unitLabels.length - 1; i > 0; i--) {
      const j = random.below(i + 1);
      const held = unitLabels[i] as number;
      unitLabels[i] = unitLabels[j] as number;
      unitLabels[j] = held;
    }
    for (let i = 0; i < n; i++) shuffled[i] = unitLabels[clusters[i] as number] as number;
    if (isExtreme(evaluate(statistic, shuffled))) extreme += 1;
  }
  const pValue = (1 + extreme) / (1 + permutations);
  return {
    statistic: observed,
    pValue,
    standardError: Math.sqrt((pValue * (1 - pValue)) / permutations),
    permutations,
  };
}

function clusterCodes(cluster: ArrayLike<string | number> | undefined, n: number): Int32Array {
  if (cluster === undefined) return Int32Array.from({ length: n }, (_, i) => i);
  requireLength('cluster', cluster, n);
  return codedLabels('cluster', cluster, n).codes;
}

function labelsOfUnits(codes: Int32Array, clusters: Int32Array): Int32Array {
  const count = clusters.reduce((most, code) => Math.max(most, code), -1) + 1;
  const labels = new Int32Array(count).fill(-1);
  for (const [i, code] of codes.entries()) {
    const unit = clusters[i] as number;
    const held = labels[unit] as number;
    if (held !== -1 && held !== code) {
      throw new StatisticsError(
        'out-of-range',
        `cluster of row ${i} holds two groups; labels can be exchanged between clusters only where each has one`,
      );
    }
    labels[unit] = code;
  }
  return labels;
}

function evaluate(statistic: (codes: Int32Array) => number, codes: Int32Array): number {
  const value = statistic(codes);
  if (!Number.isFinite(value)) {
    throw new StatisticsError('out-of-range', `the statistic is ${value} under an arrangement of the groups`);
  }
  return value;
}
