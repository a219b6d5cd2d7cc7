import { BANDS } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { coxModel } from '../../statistics/regression/cox/index.ts';
import { logRankTest } from '../../statistics/survival/index.ts';
import type { Effect, TestResult } from '../finding.ts';
import { independentIfAlone } from '../tools/adjustment.ts';
import { type CorrectionFollowUp, corrections } from './follow-up.ts';

/** The tests of whether bands differ in time to correction; the first is the one that counts. */
export interface TrendTests {
  readonly tests: readonly TestResult[];
  /** Hazard ratio for each band further. */
  readonly effect: Effect;
}

/**
 * Score test for trend in the Cox model with scores 1, 2, 3, its variance summed by infant (or that of the model, where
 * the plan or a single infant leaves no clusters), and the two log-rank tests beside it, which take feet as independent.
 */
export function trendTests(items: readonly CorrectionFollowUp[], plan: Plan, prefix = ''): TrendTests {
  const clusters = independentIfAlone(items, plan);
  const robust = {
    key: `${prefix}trend`,
    label: 'Trend across bands',
    method:
      clusters.cluster === undefined
        ? 'score test for trend in a Cox model (scores 1, 2, 3), feet as independent'
        : 'score test for trend in a Cox model (scores 1, 2, 3), variance summed by infant',
  };
  const logRankTrend = {
    key: `${prefix}log-rank-trend`,
    label: 'Trend across bands',
    method: 'log-rank test for trend (scores 1, 2, 3), feet as independent',
  };
  const across = {
    key: `${prefix}log-rank`,
    label: 'Difference between bands',
    method: 'log-rank test across bands, feet as independent',
  };
  const line = {
    key: `${prefix}cox.trend`,
    panel: 'Hazard of correction, crude',
    label: 'Each band further',
    kind: 'ratio' as const,
    reference: 'one band less',
    n: items.length,
    events: corrections(items),
  };
  const present = BANDS.filter(band => items.some(item => item.foot.band === band));
  const state =
    present.length < 2 ? 'fewer than two bands' : line.events === 0 ? 'no corrections' : undefined;
  if (state !== undefined) {
    return {
      tests: [robust, logRankTrend, across].map(test => ({ ...test, state })),
      effect: { ...line, state },
    };
  }
  const time = items.map(item => item.day);
  const event = items.map(item => item.cause === 1);
  const score = items.map(item => bandScore(item.foot.band));
  const model = coxModel({ time, event, covariates: { score }, ...clusters }, { level: plan.level });
  const scoreTest = clusters.cluster === undefined ? model.scoreTest : model.robustScoreTest;
  const logRank = logRankTest(
    { time, event, group: items.map(item => item.foot.band) },
    { groups: present, scores: present.map(bandScore) },
  );
  const [term] = model.terms;
  return {
    tests: [
      { ...robust, ...result(scoreTest) },
      { ...logRankTrend, ...result(logRank.trend && { ...logRank.trend, degreesOfFreedom: 1 }) },
      { ...across, ...result(logRank) },
    ],
    effect: {
      ...line,
      ...(term?.hazardRatio === undefined
        ? { state: term?.estimate === 'infinite' ? 'separated' : 'did not converge' }
        : {
            estimate: term.hazardRatio,
            ...(term.lower === undefined ? {} : { lower: term.lower }),
            ...(term.upper === undefined ? {} : { upper: term.upper }),
          }),
    },
  };
}

function bandScore(band: string): number {
  return BANDS.findIndex(candidate => candidate === band) + 1;
}

interface ChiSquare {
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
}

function result(test: ChiSquare | undefined): Partial<ChiSquare> & { readonly state?: string } {
  if (test === undefined || !Number.isFinite(test.statistic)) return { state: 'too few to test' };
  const { statistic, degreesOfFreedom, pValue } = test;
  return { statistic, degreesOfFreedom, pValue };
}
