import { BANDS, type Cohort, CORRECTION_CAUSES, type Foot } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { logRankTest, type SurvivalCurve, survivalQuantile } from '../statistics/survival/index.ts';
import { formatInterval, formatPercent, formatPValueSentence, listInWords } from '../wording/format.ts';
import type { Analysis, FindingTable, Measure, TestResult, TraceEntry } from './finding.ts';
import {
  type CausedFollowUp,
  climbingCurve,
  DAYS_IN_WEEK,
  fallingCurve,
  incidenceByDay,
  type IncidenceCurve,
  incidenceOfEvent,
  survivalOf,
  weeks,
  withLimits,
} from './tools/curves.ts';
import { byGroup, countInfants, episodesOf, population, reasonNotBanded } from './tools/people.ts';

interface CorrectionFollowUp extends CausedFollowUp {
  readonly foot: Foot;
}

interface BandResult {
  readonly band: string;
  readonly items: readonly CorrectionFollowUp[];
  readonly incidence: IncidenceCurve;
  readonly survival: SurvivalCurve;
}

/**
 * How long does correction take, for each severity band? The share of feet seen corrected by each week, with
 * referral, withdrawal and finishing uncorrected as competing ends, and the visit-dated median time.
 */
export function timeToCorrection(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, reasonNotBanded);
  const items = used.map(foot => ({
    foot,
    episode: foot.episode,
    infant: foot.infant,
    day: foot.correction.day,
    cause: foot.correction.cause,
  }));
  const bands = byGroup(items, BANDS, item => item.foot.band).map(
    ({ group, items: ofBand }): BandResult => ({
      band: group,
      items: ofBand,
      incidence: incidenceOfEvent(ofBand, plan),
      survival: survivalOf(ofBand, plan),
    }),
  );
  const medians = bands.map(band => medianMeasure(band));
  const shares = bands.flatMap(band => plan.correction.reportWeeks.map(week => shareMeasure(band, week)));
  const counts = bands.flatMap(countMeasures);
  const tests = trendTests(items);
  return {
    finding: {
      key: 'time-to-correction',
      version: 1,
      question: 'How long does correction take, for each severity band?',
      statement: statement(bands, medians, tests, plan),
      population: { feet: items.length, infants: countInfants(items), leftOut },
      measures: [...counts, ...medians, ...shares],
      curves: bands.flatMap(band => curves(band, plan)),
      tests,
      tables: [courseTable(bands, medians), weekTable(bands, plan)],
      methods: [
        {
          text: 'Correction is dated at the first checkup that meets the criterion. Its cumulative incidence is the Aalen–Johansen estimate, with referral, withdrawal and finishing uncorrected as competing ends; moving away, loss to follow-up and the data cut-off are censoring.',
          cites: ['aalen-johansen-1978'],
        },
        {
          text: 'The median time is read from the visit-dated Kaplan–Meier curve, in which competing ends are taken as censored; limits by inverting the log-log interval.',
          cites: ['kaplan-meier-1958', 'brookmeyer-crowley-1982'],
        },
        ...(plan.clustering.byInfant
          ? [
              {
                text: 'Standard errors allow for two feet of one infant being alike (infinitesimal jackknife by infant). The log-rank tests take feet as independent.',
                cites: ['ying-wei-1994', 'mantel-1966'],
              },
            ]
          : [{ text: 'Feet are taken as independent.', cites: ['mantel-1966'] }]),
      ],
      cautions: [
        'A foot is only seen at checkups: the true day of correction lies between two of them, so visit-dated times are late by up to the gap between checkups.',
        'Most flexible feet straighten untreated: the curve shows what happened under therapy, not because of it.',
      ],
    },
    trace: { ...trace, ...countTrace(bands) },
  };
}

function medianMeasure(band: BandResult): Measure {
  const median = survivalQuantile(band.survival, 0.5);
  const common = {
    key: `median.${band.band}`,
    label: 'Median time to correction',
    group: band.band,
    kind: 'time' as const,
    unit: 'weeks',
    n: band.items.length,
    infants: countInfants(band.items),
    events: band.items.filter(item => item.cause === 1).length,
  };
  if (median.estimate === undefined) return { ...common, state: 'not reached' };
  return {
    ...common,
    ...withLimits(
      weeks(median.estimate),
      median.lower === undefined ? undefined : weeks(median.lower),
      median.upper === undefined ? undefined : weeks(median.upper),
    ),
  };
}

function shareMeasure(band: BandResult, week: number): Measure {
  return {
    key: `corrected.week${week}.${band.band}`,
    label: `Seen corrected by week ${week}`,
    group: band.band,
    kind: 'proportion',
    unit: 'of 1',
    n: band.items.length,
    infants: countInfants(band.items),
    ...incidenceByDay(band.incidence, week * DAYS_IN_WEEK),
  };
}

function countMeasures(band: BandResult): readonly Measure[] {
  const count = (key: string, label: string, items: readonly CorrectionFollowUp[]): Measure => ({
    key: `${key}.${band.band}`,
    label,
    group: band.band,
    kind: 'count',
    unit: 'feet',
    estimate: items.length,
    infants: countInfants(items),
  });
  return [
    count('feet', 'Feet', band.items),
    ...CORRECTION_CAUSES.map((cause, code) =>
      count(
        cause,
        code === 0 ? 'Still uncorrected when last followed' : `End: ${cause}`,
        band.items.filter(item => item.cause === code),
      ),
    ),
  ];
}

function countTrace(bands: readonly BandResult[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const { band, items } of bands) {
    entries[`feet.${band}`] = { rule: `severity band ${band} at baseline`, episodes: episodesOf(items) };
    for (const [code, cause] of CORRECTION_CAUSES.entries()) {
      entries[`${cause}.${band}`] = {
        rule: `severity band ${band}; follow-up for correction ended as: ${cause}`,
        episodes: episodesOf(items.filter(item => item.cause === code)),
      };
    }
  }
  return entries;
}

function trendTests(items: readonly CorrectionFollowUp[]): readonly TestResult[] {
  const present = BANDS.filter(band => items.some(item => item.foot.band === band));
  const across = {
    key: 'log-rank',
    label: 'Difference between bands',
    method: 'log-rank test across bands, feet as independent',
  };
  const trend = {
    key: 'trend',
    label: 'Trend across bands',
    method: 'log-rank test for trend (scores 1, 2, 3), feet as independent',
  };
  if (present.length < 2) return [across, trend].map(test => ({ ...test, state: 'fewer than two bands' }));
  if (!items.some(item => item.cause === 1))
    return [across, trend].map(test => ({ ...test, state: 'no corrections' }));
  const result = logRankTest(
    {
      time: items.map(item => item.day),
      event: items.map(item => item.cause === 1),
      group: items.map(item => item.foot.band),
    },
    { groups: present, scores: present.map(band => BANDS.indexOf(band) + 1) },
  );
  return [
    {
      ...across,
      statistic: result.statistic,
      degreesOfFreedom: result.degreesOfFreedom,
      pValue: result.pValue,
    },
    result.trend === undefined
      ? { ...trend, state: 'no trend test' }
      : { ...trend, statistic: result.trend.statistic, degreesOfFreedom: 1, pValue: result.trend.pValue },
  ];
}

function curves(band: BandResult, plan: Plan) {
  const ticks = plan.figures.weekTicks;
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

function courseTable(bands: readonly BandResult[], medians: readonly Measure[]): FindingTable {
  return {
    key: 'course',
    title: 'How follow-up for correction ended, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'corrected', label: 'Corrected', kind: 'count' },
      { key: 'referred', label: 'Referred', kind: 'count' },
      { key: 'withdrawn', label: 'Withdrawn', kind: 'count' },
      { key: 'finished uncorrected', label: 'Finished uncorrected', kind: 'count' },
      { key: 'censored', label: 'Censored', kind: 'count' },
      { key: 'median', label: 'Median time', unit: 'weeks', kind: 'time' },
    ],
    rows: bands.map(({ band, items }, place) => {
      const median = medians[place];
      const ends = Object.fromEntries(
        CORRECTION_CAUSES.map((cause, code) => [cause, items.filter(item => item.cause === code).length]),
      );
      return {
        band,
        feet: items.length,
        infants: countInfants(items),
        ...ends,
        median:
          median?.estimate === undefined
            ? (median?.state ?? 'not reached')
            : withLimits(median.estimate, median.lower, median.upper),
      };
    }),
    notes: ['Median time from the visit-dated Kaplan–Meier curve.'],
  };
}

function weekTable(bands: readonly BandResult[], plan: Plan): FindingTable {
  return {
    key: 'by-week',
    title: 'Feet seen corrected by week, competing ends taken into account',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      ...plan.correction.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: bands.map(band => ({
      band: band.band,
      ...Object.fromEntries(
        plan.correction.reportWeeks.map(week => [
          `week${week}`,
          incidenceByDay(band.incidence, week * DAYS_IN_WEEK),
        ]),
      ),
    })),
    notes: [],
  };
}

function statement(
  bands: readonly BandResult[],
  medians: readonly Measure[],
  tests: readonly TestResult[],
  plan: Plan,
): string {
  if (bands.length === 0)
    return 'No foot with a severity band was followed, so time to correction cannot be given.';
  const times = medians.map(median =>
    median.estimate === undefined
      ? `in ${median.group} feet the median was not reached`
      : `${median.group} feet ${formatInterval(withLimits(median.estimate, median.lower, median.upper), 'time')}`,
  );
  const week = plan.correction.reportWeeks[Math.min(1, plan.correction.reportWeeks.length - 1)] ?? 8;
  const shares = bands.map(
    band =>
      `${formatPercent(incidenceByDay(band.incidence, week * DAYS_IN_WEEK).estimate)} of ${band.band} feet`,
  );
  const trend = tests.find(test => test.key === 'trend');
  const evidence =
    trend?.pValue === undefined
      ? ''
      : ` (trend across bands ${formatPValueSentence(trend.pValue)}, feet as independent)`;
  return `Median weeks until a foot was seen corrected: ${listInWords(times)}${evidence}. By week ${week}, ${listInWords(shares)} had been seen corrected.`;
}
