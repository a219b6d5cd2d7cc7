import { type Band, BANDS } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { StatisticsError } from '../../statistics/errors.ts';
import { coxModel } from '../../statistics/regression/cox/index.ts';
import { type LogRankTest, logRankTest } from '../../statistics/survival/index.ts';
import type { Effect, TestResult } from '../finding.ts';
import { independentIfAlone } from '../tools/adjustment.ts';
import { ratioOf } from '../tools/ratio.ts';
import { type CorrectionFollowUp, corrections } from './follow-up.ts';

/** The tests of whether bands differ in time to correction; the first is the one that counts. */
export interface TrendTests {
  readonly tests: readonly TestResult[];
  /** Hazard ratio for each band further. */
  readonly effect: Effect;
  /** Whether feet of a worse band are corrected later or sooner, be it by chance; undefined where nothing compares them. */
  readonly direction?: 'later' | 'sooner';
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
  const without = (reason: string): TrendTests => ({
    tests: [robust, logRankTrend, across].map(test => ({ ...test, state: reason })),
    effect: { ...line, state: reason },
  });
  if (state !== undefined) return without(state);
  const logRank = logRankOf(items, present);
  if (logRank === undefined) return without('no correction while two bands were followed');
  const time = items.map(item => item.day);
  const event = items.map(item => item.cause === 1);
  const score = items.map(item => bandScore(item.foot.band));
  const model = coxModel({ time, event, covariates: { score }, ...clusters }, { level: plan.level });
  const scoreTest = clusters.cluster === undefined ? model.scoreTest : model.robustScoreTest;
  const [term] = model.terms;
  return {
    tests: [
      { ...robust, ...result(scoreTest) },
      { ...logRankTrend, ...result(logRank.trend && { ...logRank.trend, degreesOfFreedom: 1 }) },
      { ...across, ...result(logRank) },
    ],
    effect: {
      ...line,
      ...ratioOf(term),
    },
    direction: directionOf(logRank),
  };
}

/** Whether bands of a higher score have fewer corrections than expected. */
function directionOf({ groups }: LogRankTest): 'later' | 'sooner' {
  const excess = groups.reduce(
    (sum, { group, observed, expected }) => sum + bandScore(String(group)) * (observed - expected),
    0,
  );
  return excess < 0 ? 'later' : 'sooner';
}

/** Undefined where no correction was seen while two bands were at risk: there is then nothing to compare. */
function logRankOf(items: readonly CorrectionFollowUp[], present: readonly Band[]): LogRankTest | undefined {
  const data = {
    time: items.map(item => item.day),
    event: items.map(item => item.cause === 1),
    group: items.map(item => item.foot.band),
  };
  try {
    return logRankTest(data, { groups: present, scores: present.map(bandScore) });
  } catch (error) {
    if (error instanceof StatisticsError && error.code === 'no-events') return undefined;
    throw error;
  }
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
