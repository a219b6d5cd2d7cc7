import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis, Curve, Measure } from '../finding.ts';
import { weekTicks } from '../tools/week-ticks.ts';
import { climbingCurve, fallingCurve } from '../tools/curves.ts';
import { countInfants, population, reasonNotBanded } from '../tools/people.ts';
import { datingPlots } from './dating-plots.ts';
import { doseAnswer } from './dose.ts';
import { type BandResult, bandResults, correctionFollowUps } from './follow-up.ts';
import { type IntervalCensoredBand, intervalCensored } from './interval-censored.ts';
import { medianComparison, shareComparison } from './late-by.ts';
import {
  countMeasures,
  countTrace,
  courseTable,
  quartileMeasures,
  quartileTable,
  shareMeasures,
  shareTable,
} from './measures.ts';
import { correctionModels, modelCautions, modelTable } from './models.ts';
import { restrictedMeanMeasures, restrictedMeanTable } from './restricted-mean.ts';
import { WEEKS } from './scales.ts';
import { trendTests } from './trend.ts';
import { cautions, methods, statement, statementWeek } from './words.ts';

/**
 * How long does correction take, for each severity band? The share of feet seen corrected by each week, with referral,
 * withdrawal and finishing uncorrected as competing ends; beside it the visit-dated and the interval-censored times,
 * the restricted mean, the trend across bands, crude and adjusted models, and the same by hours worn.
 */
export function timeToCorrection(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, reasonNotBanded);
  const items = correctionFollowUps(used);
  const bands = bandResults(items, plan);
  const quartiles = bands.flatMap(band => quartileMeasures(band, WEEKS));
  const shares = bands.flatMap(band => shareMeasures(band, plan.correction.reportWeeks, WEEKS));
  const intervals = bands.map(band => intervalCensored(band, plan));
  const means = restrictedMeanMeasures(bands, plan);
  const trend = trendTests(items, plan);
  const models = correctionModels(items, plan);
  const dose = doseAnswer(items, plan);
  const find = (key: string): Measure | undefined =>
    [...quartiles, ...shares].find(measure => measure.key === key);
  const ofBands = (key: string): readonly Measure[] =>
    bands.flatMap(({ band }) => find(`${key}.${band}`) ?? []);
  return {
    finding: {
      key: 'time-to-correction',
      version: 1,
      question: 'How long does correction take, for each severity band?',
      statement: statement(
        ofBands('median'),
        ofBands(`corrected.week${statementWeek(plan)}`),
        trend.tests,
        intervals,
        plan,
      ),
      population: { feet: items.length, infants: countInfants(items), leftOut },
      measures: [
        ...bands.flatMap(countMeasures),
        ...quartiles,
        ...shares,
        ...intervals.flatMap(measuresOf),
        ...means,
        ...dose.measures,
      ],
      curves: [...bands.flatMap(band => curves(band, plan)), ...dose.curves],
      tests: [...trend.tests, ...dose.tests],
      effects: [trend.effect, ...models.flatMap(model => model.effects), ...dose.effects],
      plots: datingPlots(intervals, plan),
      tables: [
        courseTable(bands),
        shareTable(bands, plan, WEEKS),
        quartileTable(bands, quartiles, WEEKS, []),
        shareComparison(intervals, (band, week) => find(`corrected.week${week}.${band}`)),
        medianComparison(intervals),
        restrictedMeanTable(means, plan),
        modelTable('models', 'Which feet were corrected sooner', models),
        ...dose.tables,
      ],
      methods: methods(plan),
      cautions: [...cautions(dose), ...modelCautions(models)],
    },
    trace: { ...trace, ...countTrace(bands), ...dose.trace },
  };
}

function measuresOf({ shares, median }: IntervalCensoredBand): readonly Measure[] {
  return [
    ...shares.flatMap(({ visitDated, atLeast, atMost, weibull }) => [visitDated, atLeast, atMost, weibull]),
    median.atLeast,
    median.atMost,
    median.weibull,
  ];
}

function curves(band: BandResult, plan: Plan): readonly Curve[] {
  const ticks = weekTicks(plan);
  return [
    climbingCurve(
      { key: `incidence.${band.band}`, group: band.band, measure: 'Feet seen corrected' },
      band.items,
      band.incidence,
      ticks,
    ),
    fallingCurve(
      { key: `visit-dated.${band.band}`, group: band.band, measure: 'Feet not yet seen corrected' },
      band.items,
      band.survival,
      ticks,
    ),
  ];
}
