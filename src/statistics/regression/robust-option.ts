import { type CodedLabels, codedLabels } from '../columns.ts';
import { requireOption } from '../option.ts';
import { type RobustKind, type SandwichInput, sandwichCovariance } from './sandwich-covariance.ts';

/** Which errors a regression reports beside the model's own. */
export type RobustOption = 'none' | RobustKind;

export const ROBUST_OPTIONS: readonly RobustOption[] = ['none', 'hc0', 'hc1', 'hc2', 'hc3'];

/** @throws StatisticsError `unknown-option` */
export function requireRobustOption(robust: RobustOption): void {
  requireOption('robust', robust, ROBUST_OPTIONS);
}

export function clusterLabels(
  cluster: ArrayLike<string | number> | undefined,
  rows: number,
): CodedLabels | undefined {
  return cluster === undefined ? undefined : codedLabels('cluster', cluster, rows);
}

/**
 * The robust covariance asked for, if any. Giving clusters asks for clustered errors; `fallback` is then the
 * correction used where none is named.
 */
export function robustCovariance(
  input: SandwichInput,
  robust: RobustOption,
  clusters: CodedLabels | undefined,
  fallback: RobustKind,
): number[][] | undefined {
  if (robust === 'none' && clusters === undefined) return undefined;
  return sandwichCovariance(input, robust === 'none' ? fallback : robust, clusters);
}
