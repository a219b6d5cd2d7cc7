import { BANDS, type Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { normalQuantile } from '../../statistics/distributions/normal.ts';
import { StatisticsError } from '../../statistics/errors.ts';
import { acceleratedFailureModel } from '../../statistics/regression/accelerated-failure/index.ts';
import { formatNumber } from '../../wording/format.ts';
import type { Cell, Finding, Measure } from '../finding.ts';
import { independentIfAlone } from '../tools/adjustment.ts';
import { withLimits } from '../tools/curves.ts';
import { reasonNotBanded } from '../tools/people.ts';
import { type CorrectionFollowUp, correctionFollowUps } from '../time-to-correction/follow-up.ts';
import { cellOf } from '../time-to-correction/measures.ts';
import { statementWeek } from '../time-to-correction/words.ts';
import { TREND_KEY } from './conclusion.ts';

/** The headline numbers of correction with each time taken as lying between two checkups. */
export interface IntervalDating {
  readonly cells: ReadonlyMap<string, Cell>;
  readonly trend: Pick<Measure, 'estimate' | 'lower' | 'upper' | 'state'>;
}

/** @param correction the finding on time to correction of the same cohort, which holds the interval-censored measures */
export function intervalDating(correction: Finding, cohort: Cohort, plan: Plan): IntervalDating {
  const items = correctionFollowUps(cohort.feet.filter(foot => reasonNotBanded(foot) === undefined));
  const week = statementWeek(plan);
  const cells = new Map<string, Cell>();
  const find = (key: string) => correction.measures.find(measure => measure.key === key);
  for (const band of BANDS) {
    const share = find(`interval-censored.at-least.week${week}.${band}`);
    if (share === undefined) continue;
    cells.set(`corrected.week${week}.${band}`, cellOf(share));
    cells.set(
      `median.${band}`,
      stretch(
        find(`interval-censored.at-least.median.${band}`),
        find(`interval-censored.at-most.median.${band}`),
      ),
    );
  }
  const trend = weibullTrend(items, plan);
  cells.set(TREND_KEY, cellOf({ ...trend, key: TREND_KEY, label: '', kind: 'ratio', unit: '' }));
  return { cells, trend };
}

function stretch(atLeast: Measure | undefined, atMost: Measure | undefined): Cell {
  if (atLeast?.estimate === undefined || atMost?.estimate === undefined) return atMost?.state;
  return `${formatNumber(atLeast.estimate, 'time')} to ${formatNumber(atMost.estimate, 'time')}`;
}

/**
 * Hazard ratio for each band further in a Weibull model of the stretches between checkups: e to minus the coefficient
 * of log time over the scale, limits by the delta method.
 */
function weibullTrend(items: readonly CorrectionFollowUp[], plan: Plan): IntervalDating['trend'] {
  const telling = items.filter(
    ({ foot: { correction } }) => correction.interval.lower > 0 || correction.interval.upper < Infinity,
  );
  if (!telling.some(item => item.cause === 1)) return { state: 'no corrections' };
  const score = telling.map(({ foot }) => BANDS.findIndex(band => band === foot.band) + 1);
  if (score.every(value => value === score[0])) return { state: 'fewer than two bands' };
  try {
    const model = acceleratedFailureModel(
      {
        lower: telling.map(({ foot }) => foot.correction.interval.lower),
        upper: telling.map(({ foot }) => foot.correction.interval.upper),
        covariates: { score },
        ...independentIfAlone(telling, plan),
      },
      { distribution: 'weibull', level: plan.level },
    );
    const coefficient = model.terms.find(term => term.name === 'score')?.coefficient;
    const { scale, covariance } = model;
    if (coefficient === undefined || scale === undefined || covariance === undefined) {
      return { state: 'did not converge' };
    }
    const logRatio = -coefficient / scale;
    // Order of the covariance: intercept, score, log scale.
    const gradient = [0, -1 / scale, coefficient / scale];
    const variance = gradient.reduce(
      (sum, a, i) => sum + gradient.reduce((inner, b, j) => inner + a * b * (covariance[i]?.[j] ?? 0), 0),
      0,
    );
    const half = normalQuantile((1 + plan.level) / 2) * Math.sqrt(Math.max(0, variance));
    return withLimits(Math.exp(logRatio), Math.exp(logRatio - half), Math.exp(logRatio + half));
  } catch (error) {
    if (error instanceof StatisticsError && error.code === 'not-converged')
      return { state: 'did not converge' };
    throw error;
  }
}
