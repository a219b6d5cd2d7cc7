import type { Plan } from '../../plan/plan.ts';
import {
  formatCount,
  formatInterval,
  formatPercent,
  formatPercentNumber,
  formatPValueSentence,
  listInWords,
} from '../../wording/format.ts';
import type { Finding, Measure, TestResult } from '../finding.ts';
import { withLimits } from '../tools/curves.ts';
import type { DoseAnswer } from './dose.ts';
import { corrections } from './follow-up.ts';
import type { IntervalCensoredBand } from './interval-censored.ts';

/** The week that the statement speaks of: the second of those reported, or the only one. */
export function statementWeek(plan: Plan): number {
  const { reportWeeks } = plan.correction;
  return reportWeeks[1] ?? reportWeeks[0] ?? 0;
}

/** The answer in plain words: medians with the trend, shares by one week, and what visit dating leaves out of them. */
export function statement(
  medians: readonly Measure[],
  shares: readonly Measure[],
  tests: readonly TestResult[],
  intervals: readonly IntervalCensoredBand[],
  plan: Plan,
): string {
  if (medians.length === 0)
    return 'No foot with a severity band was followed, so time to correction cannot be given.';
  const times = medians.map(median =>
    median.estimate === undefined
      ? `not reached in ${median.group} feet`
      : `${median.group} feet ${formatInterval(withLimits(median.estimate, median.lower, median.upper), 'time')}`,
  );
  const trend = tests.find(test => test.key === 'trend');
  const evidence =
    trend?.pValue === undefined ? '' : ` (trend across bands ${formatPValueSentence(trend.pValue)})`;
  const week = statementWeek(plan);
  const seen = shares.map(share => `${percentWithLimits(share)} of ${share.group} feet`);
  return [
    `Median weeks until a foot was seen corrected: ${listInWords(times)}${evidence}.`,
    `By week ${week}, ${listInWords(seen)} had been seen corrected.`,
    ...between(intervals, week),
  ].join(' ');
}

function percentWithLimits({ estimate = 0, lower, upper }: Measure): string {
  const percent = formatPercent(estimate);
  if (lower === undefined || upper === undefined) return percent;
  return `${percent} (${formatPercentNumber(lower)} to ${formatPercentNumber(upper)})`;
}

function between(intervals: readonly IntervalCensoredBand[], week: number): readonly string[] {
  const ranges = intervals.flatMap(({ band, shares }) => {
    const at = corrections(band.items) === 0 ? undefined : shares.find(share => share.week === week);
    if (at?.atLeast.estimate === undefined || at.atMost.estimate === undefined) return [];
    const least = formatPercent(at.atLeast.estimate);
    const most = formatPercent(at.atMost.estimate);
    const range =
      most === least
        ? percentWithLimits(at.atLeast)
        : `${formatPercentNumber(at.atLeast.estimate)} to ${most}`;
    return [`${range} of ${band.band} feet`];
  });
  if (ranges.length === 0) return [];
  return [
    `Since feet straighten between checkups, ${listInWords(ranges)} were straight by then (interval-censored estimate, other ends censored).`,
  ];
}

export function methods(plan: Plan): Finding['methods'] {
  const { restrictedMeanWeeks, resamples } = plan.correction;
  return [
    {
      text: 'Correction is dated at the first checkup that meets the criterion. Its cumulative incidence is the Aalen–Johansen estimate, with referral, withdrawal and finishing uncorrected as competing ends; moving away, loss to follow-up and the data cut-off are censoring.',
      cites: ['aalen-johansen-1978'],
    },
    {
      text: 'Median and quartiles are read from the visit-dated Kaplan–Meier curve, in which competing ends are taken as censored; limits by inverting the log-log interval.',
      cites: ['kaplan-meier-1958', 'brookmeyer-crowley-1982'],
    },
    {
      text: `A foot straightens between its last uncorrected and its first corrected checkup. Turnbull’s estimate takes each time as lying in that stretch, its limits being percentiles of ${formatCount(resamples)} resamples${plan.clustering.byInfant ? ' of infants' : ''}; a Weibull distribution fitted to the same stretches stands beside it.`,
      cites: ['turnbull-1976', 'sun-2001', 'field-welsh-2007', 'lindsey-ryan-1998'],
    },
    {
      text: `The restricted mean is the area under the visit-dated curve up to week ${restrictedMeanWeeks}.`,
      cites: ['royston-parmar-2013'],
    },
    {
      text: plan.clustering.byInfant
        ? 'Standard errors allow for two feet of one infant being alike (infinitesimal jackknife of curves, robust variance of models, both summed by infant). The trend across bands is tested by the score test of a Cox model with that variance; the log-rank tests take feet as independent.'
        : 'Feet are taken as independent.',
      cites: plan.clustering.byInfant
        ? ['ying-wei-1994', 'lin-wei-1989', 'mantel-1966', 'tarone-1975']
        : ['mantel-1966', 'tarone-1975'],
    },
    {
      text: 'Cox models (Efron’s ties; competing ends censored) and Fine–Gray models of the incidence, crude and adjusted for age at start, sex, both feet treated, medial crease and site, in feet with all of these recorded.',
      cites: ['cox-1972', 'efron-1977', 'fine-gray-1999'],
    },
    {
      text: 'On the dose scale time is replaced by the hours worn since first fitting.',
      cites: [],
    },
  ];
}

export function cautions(dose: DoseAnswer): readonly string[] {
  const missing = dose.days - dose.daysWithData;
  return [
    'A foot is only seen at checkups: the true day of correction lies between two of them, so visit-dated times are late by up to the gap between checkups.',
    'Most flexible feet straighten untreated: the curve shows what happened under therapy, not because of it.',
    ...(dose.days > 0
      ? [
          `Hours worn are known for ${formatPercent(dose.daysWithData / dose.days)} of days up to correction; ${missing > 0 ? 'the other days are taken to be like them' : 'no day had to be filled in'}. Feet that straighten late have had more days in which to gather hours.`,
        ]
      : []),
  ];
}
