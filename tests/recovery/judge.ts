import type { Estimand, Target } from './estimands.ts';
import type { Estimate, ExportEstimates } from './estimates.ts';

/** How one estimand did over the exports of one scenario, against one target. */
export interface Recovery extends Omit<Estimand, 'truths'> {
  readonly target: Target;
  readonly truth: number;
  readonly exports: number;
  /** Exports that gave an estimate; the others said `not reached` or the like. */
  readonly estimated: number;
  readonly mean?: number;
  readonly bias?: number;
  /** Monte-Carlo error of the bias. */
  readonly biasError?: number;
  readonly rootMeanSquareError?: number;
  /** Exports whose interval had the limits it needs. */
  readonly intervals: number;
  readonly coverage?: number;
  readonly coverageError?: number;
}

export interface TestRecovery {
  readonly key: string;
  readonly exports: number;
  readonly tested: number;
  readonly rejected?: number;
  readonly rejectedError?: number;
}

const LEVEL = 0.05;

/** Bias, root mean square error and coverage of one estimand against each of its targets. */
export function judge(estimand: Estimand, exports: readonly ExportEstimates[]): readonly Recovery[] {
  const { truths, ...named } = estimand;
  const estimates = exports.flatMap(one => {
    const found = onScale(estimateOf(estimand, one), estimand.unit);
    return found?.estimate === undefined ? [] : [{ ...found, estimate: found.estimate }];
  });
  return (['seen', 'true'] as const).flatMap(target => {
    const truth = truths[target];
    if (truth === undefined) return [];
    const held = estimates.flatMap(estimate => holds(truth, estimate, estimand.unit) ?? []);
    return [
      {
        ...named,
        target,
        truth,
        exports: exports.length,
        estimated: estimates.length,
        ...biasOf(
          estimates.map(({ estimate }) => estimate),
          truth,
        ),
        intervals: held.length,
        ...shareOf(held, 'coverage'),
      },
    ];
  });
}

export function judgeTest(name: string, key: string, exports: readonly ExportEstimates[]): TestRecovery {
  const verdicts = exports.flatMap(one => {
    const p = one[name]?.pValue;
    return p === undefined ? [] : [p < LEVEL];
  });
  return { key, exports: exports.length, tested: verdicts.length, ...shareOf(verdicts, 'rejected') };
}

/** The middle of a range is the mean of its ends; it has no interval of its own. */
function estimateOf({ name }: Estimand, one: ExportEstimates): Estimate | undefined {
  if (!name.includes('.middle.')) return one[name];
  const low = one[name.replace('.middle.', '.at-least.')]?.estimate;
  const high = one[name.replace('.middle.', '.at-most.')]?.estimate;
  return low === undefined || high === undefined ? undefined : { estimate: (low + high) / 2 };
}

function onScale(found: Estimate | undefined, unit: Estimand['unit']): Estimate | undefined {
  if (found?.estimate === undefined || unit !== 'log ratio') return found;
  const { estimate, lower, upper } = found;
  return {
    estimate: Math.log(estimate),
    ...(lower === undefined ? {} : { lower: Math.log(lower) }),
    ...(upper === undefined ? {} : { upper: Math.log(upper) }),
  };
}

/** No answer without limits; a time whose upper limit is not reached may be as late as can be. */
function holds(truth: number, { lower, upper }: Estimate, unit: Estimand['unit']): boolean | undefined {
  const last = upper ?? (unit === 'weeks' ? Infinity : undefined);
  return lower === undefined || last === undefined ? undefined : lower <= truth && truth <= last;
}

function biasOf(estimates: readonly number[], truth: number) {
  const n = estimates.length;
  if (n < 2) return {};
  const mean = estimates.reduce((sum, x) => sum + x, 0) / n;
  const variance = estimates.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1);
  const square = estimates.reduce((sum, x) => sum + (x - truth) ** 2, 0) / n;
  return {
    mean,
    bias: mean - truth,
    biasError: Math.sqrt(variance / n),
    rootMeanSquareError: Math.sqrt(square),
  };
}

function shareOf<Name extends 'coverage' | 'rejected'>(verdicts: readonly boolean[], name: Name) {
  const n = verdicts.length;
  if (n === 0) return {} as Partial<Record<Name | `${Name}Error`, number>>;
  const share = verdicts.filter(Boolean).length / n;
  return { [name]: share, [`${name}Error`]: Math.sqrt((share * (1 - share)) / n) } as Record<
    Name | `${Name}Error`,
    number
  >;
}
