import { BANDS } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { jonckheereTerpstra, spearman } from '../../statistics/ranks/index.ts';
import { coxModel } from '../../statistics/regression/cox/index.ts';
import { logRankTest } from '../../statistics/survival/index.ts';
import type { TestResult } from '../finding.ts';
import { independentIfAlone } from '../tools/adjustment.ts';
import { attempt } from '../tools/attempt.ts';
import { type DurationFollowUp, finishedOf } from './follow-up.ts';

type Named = Pick<TestResult, 'key' | 'label' | 'method'>;

/**
 * Whether durations rise or fall across the bands. First the test that counts: the score test of Cox's model on scores
 * 1, 2, 3 with its variance summed by infant. Beside it the log-rank tests, which take feet as independent.
 */
export function trendTests(items: readonly DurationFollowUp[], plan: Plan): readonly TestResult[] {
  const clusters = independentIfAlone(items, plan);
  const variance = clusters.cluster === undefined ? 'feet as independent' : 'variance summed by infant';
  const robust: Named = {
    key: 'trend',
    label: 'Trend across bands',
    method: `score test for trend in a Cox model (scores 1, 2, 3), ${variance}`,
  };
  const logRankTrend: Named = {
    key: 'log-rank-trend',
    label: 'Trend across bands',
    method: 'log-rank test for trend (scores 1, 2, 3), feet as independent',
  };
  const across: Named = {
    key: 'log-rank',
    label: 'Difference between bands',
    method: 'log-rank test across bands, feet as independent',
  };
  const present = bandsOf(items);
  if (present.length < 2) {
    return [robust, logRankTrend, across].map(test => ({ ...test, state: 'fewer than two bands' }));
  }
  const time = items.map(item => item.day);
  const event = items.map(item => item.cause === 1);
  const score = items.map(item => bandScore(item));
  const model = attempt(() =>
    coxModel({ time, event, covariates: { score }, ...clusters }, { level: plan.level }),
  );
  const logRank = attempt(() =>
    logRankTest(
      { time, event, group: items.map(item => item.foot.band) },
      { groups: present, scores: present.map(band => BANDS.indexOf(band) + 1) },
    ),
  );
  return [
    'state' in model
      ? { ...robust, state: model.state }
      : { ...robust, ...found(clusters.cluster === undefined ? model.scoreTest : model.robustScoreTest) },
    'state' in logRank
      ? { ...logRankTrend, state: logRank.state }
      : { ...logRankTrend, ...found(logRank.trend && { ...logRank.trend, degreesOfFreedom: 1 }) },
    'state' in logRank ? { ...across, state: logRank.state } : { ...across, ...found(logRank) },
  ];
}

/** Rank tests among the feet that finished: they leave out whoever is still in therapy, so the feet are selected. */
export function testsAmongFinished(items: readonly DurationFollowUp[]): readonly TestResult[] {
  const finished = finishedOf(items);
  const present = bandsOf(finished);
  const selected = 'among finished feet only (selected), feet as independent';
  const ordered: Named = {
    key: 'jonckheere-terpstra',
    label: 'Rise of duration across bands',
    method: `Jonckheere–Terpstra test ${selected}`,
  };
  const ranks: Named = {
    key: 'spearman',
    label: 'Correlation of band and duration',
    method: `Spearman’s rank correlation ${selected}`,
  };
  if (finished.length === 0) return [ordered, ranks].map(test => ({ ...test, state: 'no foot finished' }));
  if (present.length < 2) return [ordered, ranks].map(test => ({ ...test, state: 'fewer than two bands' }));
  const value = finished.map(item => item.day);
  const jonckheere = attempt(() =>
    jonckheereTerpstra({ value, group: finished.map(item => item.foot.band) }, { order: present }),
  );
  const correlation = attempt(() => spearman(value, finished.map(bandScore)));
  return [
    'state' in jonckheere
      ? { ...ordered, state: jonckheere.state }
      : { ...ordered, statistic: jonckheere.z, pValue: jonckheere.pValue },
    'state' in correlation
      ? { ...ranks, state: correlation.state }
      : { ...ranks, statistic: correlation.estimate, pValue: correlation.pValue },
  ];
}

function bandsOf(items: readonly DurationFollowUp[]) {
  return BANDS.filter(band => items.some(item => item.foot.band === band));
}

/** 1, 2, 3 for mild, moderate, severe. */
export function bandScore({ foot }: DurationFollowUp): number {
  return BANDS.findIndex(band => band === foot.band) + 1;
}

interface ChiSquare {
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
}

function found(test: ChiSquare | undefined): Partial<ChiSquare> & { readonly state?: string } {
  if (test === undefined || !Number.isFinite(test.statistic)) return { state: 'too few to test' };
  const { statistic, degreesOfFreedom, pValue } = test;
  return { statistic, degreesOfFreedom, pValue };
}
