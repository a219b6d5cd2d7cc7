import type { Cohort, Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { survivalQuantile } from '../../statistics/survival/index.ts';
import {
  formatCount,
  formatInterval,
  formatPercent,
  formatPercentNumber,
  formatTime,
  listInWords,
} from '../../wording/format.ts';
import type { Measure } from '../finding.ts';
import {
  DAYS_IN_WEEK,
  incidenceByDay,
  incidenceOfEvent,
  survivalOf,
  weeks,
  withLimits,
} from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { correctionFollowUps } from '../time-to-correction/follow-up.ts';
import { ageGroups, descriptionInWords, feetLikeThis, type FootDescription } from './feet-like-this.ts';

/** What became of the feet like this one, or why that is not said. */
export interface FootLikeThisAnswer {
  readonly description: FootDescription;
  readonly feet: number;
  readonly infants: number;
  /** The answer, or the reason for giving none, in plain sentences. */
  readonly statement: string;
  readonly refused: boolean;
  /** Empty if refused. */
  readonly corrected: readonly Measure[];
  /** Weeks to the end of therapy by finishing: quarter, half, three quarters. Empty if refused. */
  readonly duration: readonly Measure[];
  readonly cautions: readonly string[];
}

const CAUTIONS: readonly string[] = [
  'This describes what became of feet like this one under therapy here; it does not foretell the course of one foot.',
  'A correction is dated when it is seen at a checkup, so that a foot may be straight some weeks earlier.',
  'It does not set treatment: the treating therapist and the referring doctor do.',
];

const DURATION_QUARTERS = [
  { key: 'duration.lower-quartile', label: 'A quarter had finished therapy', share: 0.25 },
  { key: 'duration.median', label: 'Half had finished therapy', share: 0.5 },
  { key: 'duration.upper-quartile', label: 'Three quarters had finished therapy', share: 0.75 },
] as const;

/**
 * What became of the feet of the cohort that were like this one: the chance of being seen corrected by the weeks of the
 * plan (cumulative incidence with competing ends), and how long therapy took until it finished (Kaplan-Meier, referral
 * and withdrawal censored). No answer on fewer than `counselling.minimumFeet` feet.
 *
 * @throws RangeError for an age group that the plan does not have
 */
export function footLikeThis(cohort: Cohort, plan: Plan, description: FootDescription): FootLikeThisAnswer {
  const groups = ageGroups(plan);
  if (description.ageGroup !== undefined && !groups.includes(description.ageGroup)) {
    throw new RangeError(`${description.ageGroup} is no age group; allowed: ${groups.join(', ')}`);
  }
  const feet = feetLikeThis(cohort.feet, plan, description);
  const counts = { description, feet: feet.length, infants: countInfants(feet), cautions: CAUTIONS };
  const { minimumFeet } = plan.counselling;
  if (feet.length < minimumFeet) {
    return {
      ...counts,
      refused: true,
      corrected: [],
      duration: [],
      statement: `No answer: the cohort holds ${feet.length === 0 ? 'no foot' : numberOfFeet(feet.length)} like this one (${descriptionInWords(description)}), and on fewer than ${formatCount(minimumFeet)} the chance alone would decide. Ask for a wider group, leaving out the age, the crease or the flexibility.`,
    };
  }
  const corrected = correctedBy(feet, plan);
  const duration = durationQuarters(feet, plan);
  return {
    ...counts,
    refused: false,
    corrected,
    duration,
    statement: statement(counts, corrected, duration, plan),
  };
}

function correctedBy(feet: readonly Foot[], plan: Plan): readonly Measure[] {
  const items = correctionFollowUps(feet);
  const curve = incidenceOfEvent(items, plan);
  return plan.correction.reportWeeks.map(week => ({
    key: `corrected.week${week}`,
    label: `Seen corrected by week ${week}`,
    kind: 'proportion',
    unit: 'of 1',
    n: feet.length,
    infants: countInfants(feet),
    events: items.filter(item => item.cause === 1).length,
    ...incidenceByDay(curve, week * DAYS_IN_WEEK),
  }));
}

function durationQuarters(feet: readonly Foot[], plan: Plan): readonly Measure[] {
  const items = feet.map(foot => ({
    episode: foot.episode,
    infant: foot.infant,
    day: foot.lastDay,
    cause: foot.end === 'finished' ? 1 : 0,
  }));
  const curve = survivalOf(items, plan);
  return DURATION_QUARTERS.map(({ key, label, share }): Measure => {
    const { estimate, lower, upper } = survivalQuantile(curve, share);
    const rests = {
      key,
      label,
      kind: 'time' as const,
      unit: 'weeks',
      n: feet.length,
      infants: countInfants(feet),
      events: items.filter(item => item.cause === 1).length,
    };
    if (estimate === undefined) return { ...rests, state: 'not reached' };
    const limit = (day: number | undefined) => (day === undefined ? undefined : weeks(day));
    return { ...rests, ...withLimits(weeks(estimate), limit(lower), limit(upper)) };
  });
}

function statement(
  { description, feet, infants }: Pick<FootLikeThisAnswer, 'description' | 'feet' | 'infants'>,
  corrected: readonly Measure[],
  duration: readonly Measure[],
  plan: Plan,
): string {
  const shares = corrected.map(
    ({ estimate = 0, lower, upper }, place) =>
      `${formatPercent(estimate)}${lower === undefined || upper === undefined ? '' : ` (${formatPercentNumber(lower)} to ${formatPercentNumber(upper)})`} by week ${formatCount(plan.correction.reportWeeks[place] ?? 0)}`,
  );
  return [
    `Of ${numberOfFeet(feet)} of ${formatCount(infants)} infants like this one (${descriptionInWords(description)}), the share seen corrected was ${listInWords(shares)}.`,
    durationInWords(duration),
  ].join(' ');
}

function durationInWords([quarter, half, most]: readonly Measure[]): string {
  if (half?.estimate === undefined) return 'Too few had finished therapy to say how long it takes in all.';
  const median = formatInterval(withLimits(half.estimate, half.lower, half.upper), 'time');
  const others = [
    ...(quarter?.estimate === undefined ? [] : [`a quarter by ${formatTime(quarter.estimate, 'weeks')}`]),
    most?.estimate === undefined
      ? 'the last quarter had not finished when last followed'
      : `three quarters by ${formatTime(most.estimate, 'weeks')}`,
  ];
  return `Referred and withdrawn feet aside, half had finished therapy by ${median} weeks, ${listInWords(others)}.`;
}

function numberOfFeet(feet: number): string {
  return feet === 1 ? '1 foot' : `${formatCount(feet)} feet`;
}
