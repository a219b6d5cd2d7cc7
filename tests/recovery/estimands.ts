import type { ProductLimit } from './product-limit.ts';
import type { Scenario } from '../../src/synthetic/index.ts';
import { auditShares } from './audit-shares.ts';
import { durationEstimands } from './duration-estimands.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { type LargeCohort, STUDY_BANDS, type StudyBand } from './large-cohort.ts';

/** `seen`: what a very large clinic without loss would see at its checkups. `true`: what happened to the feet. */
export type Target = 'seen' | 'true';

/** One number of a report with what it is held against. */
export interface Estimand {
  /** Finding and key of the measure, such as `time-to-correction median.severe`. */
  readonly name: string;
  readonly topic:
    | 'correction'
    | 'median'
    | 'hazard ratio'
    | 'relapse'
    | 'lapse'
    | 'duration'
    | 'skin'
    | 'phases'
    | 'audit';
  readonly method: string;
  /** Such as `mild, week 8`. */
  readonly what: string;
  readonly unit: 'share' | 'weeks' | 'log ratio' | 'per 100 foot-weeks';
  readonly truths: Readonly<Partial<Record<Target, number>>>;
}

/** Two names whose mean is an estimand of its own: the middle of a range. */
export const RANGE_ENDS = ['at-least', 'at-most'] as const;

const WEEKS = [6, 8, 12, 16];
const CORRECTION = 'time-to-correction';
const PHASES = { '24': '24 hours', '15': '15 hours', '12': '12 hours', finished: 'finished', left: 'left' };
const SKIN_GROUPS = {
  'any skin event': ['slight redness', 'strong redness', 'blister', 'pressure sore'],
  'blister or pressure sore': ['blister', 'pressure sore'],
};

/** Every estimand of the study with its truth in one scenario. */
export function estimandsOf(large: LargeCohort, scenario: Scenario): readonly Estimand[] {
  return [
    ...STUDY_BANDS.flatMap(band => [...shares(large, band), ...medians(large, band)]),
    ...ratios(large),
    ...relapses(large),
    ...durationEstimands(large, scenario),
    ...lapses(large),
    ...skin(large),
    ...phases(large),
    ...auditShares(scenario),
  ];
}

/** Tests whose size and power are counted: of severity on the time to correction, and on the total duration. */
export const TESTS = [
  ...['trend', 'log-rank-trend', 'log-rank'].map(key => ({ name: `${CORRECTION} ${key}`, key })),
  ...['trend', 'log-rank-trend', 'log-rank'].map(key => ({
    name: `severity-and-duration ${key}`,
    key: `duration.${key}`,
  })),
];

function known(targets: Readonly<Record<Target, number | undefined>>): Estimand['truths'] {
  return {
    ...(targets.seen === undefined ? {} : { seen: targets.seen }),
    ...(targets.true === undefined ? {} : { true: targets.true }),
  };
}

function shares(large: LargeCohort, band: StudyBand): readonly Estimand[] {
  const crude = large.truth.correction.bands.find(found => found.band === band);
  const { seen, truly } = large.curves[band];
  return WEEKS.flatMap((week): Estimand[] => {
    const of = (key: string, method: string, truths: Estimand['truths']): Estimand => ({
      name: `${CORRECTION} ${key}.week${week}.${band}`,
      topic: 'correction',
      method,
      what: `${band}, week ${week}`,
      unit: 'share',
      truths,
    });
    const straight = { true: truly.shareBy(7 * week) };
    return [
      of(
        'corrected',
        'Aalen–Johansen, visit-dated',
        known({ seen: crude?.seenIncidence[week], true: crude?.trueIncidence[week] }),
      ),
      of('visit-dated', 'Kaplan–Meier, visit-dated', { seen: seen.shareBy(7 * week), ...straight }),
      of('interval-censored.at-least', 'Turnbull, lower end', straight),
      of('interval-censored.at-most', 'Turnbull, upper end', straight),
      of('interval-censored.middle', 'Turnbull, middle', straight),
      of('weibull', 'Weibull, interval-censored', straight),
    ];
  });
}

function medians(large: LargeCohort, band: StudyBand): readonly Estimand[] {
  const inWeeks = (day: number | undefined) => (day === undefined ? undefined : day / 7);
  const { seen, truly } = large.curves[band];
  const of = (key: string, method: string, truths: Estimand['truths']): Estimand => ({
    name: `${CORRECTION} ${key}.${band}`,
    topic: 'median',
    method,
    what: band,
    unit: 'weeks',
    truths,
  });
  const straight = known({ seen: undefined, true: inWeeks(truly.median) });
  const { restrictedMeanWeeks } = defaultPlan().correction;
  return [
    of(
      'median',
      'Kaplan–Meier, visit-dated',
      known({ seen: inWeeks(seen.median), true: inWeeks(truly.median) }),
    ),
    {
      ...of(
        'restricted-mean',
        'Mean within 16 weeks, visit-dated',
        known({
          seen: restrictedMean(seen, restrictedMeanWeeks),
          true: restrictedMean(truly, restrictedMeanWeeks),
        }),
      ),
      what: `${band}, mean`,
    },
    of('interval-censored.at-least.median', 'Turnbull, lower end', straight),
    of('interval-censored.at-most.median', 'Turnbull, upper end', straight),
    of('interval-censored.middle.median', 'Turnbull, middle', straight),
    of('weibull.median', 'Weibull, interval-censored', straight),
  ];
}

/** Mean weeks without the event up to a horizon: the area under one less the curve. */
function restrictedMean({ shareBy }: ProductLimit, weeks: number): number {
  let days = 0;
  for (let day = 0; day < 7 * weeks; day += 1) days += 1 - shareBy(day);
  return days / 7;
}

function ratios(large: LargeCohort): readonly Estimand[] {
  return (['moderate', 'severe'] as const).map(band => ({
    name: `${CORRECTION} cox.crude.band.${band}`,
    topic: 'hazard ratio',
    method: 'Cox model, visit-dated',
    what: `${band} to mild`,
    unit: 'log ratio',
    truths: { seen: Math.log(large.ratio[band].seen), true: Math.log(large.ratio[band].truly) },
  }));
}

function relapses(large: LargeCohort): readonly Estimand[] {
  return large.truth.relapse
    .filter(({ step }) => ['24 to 15', '15 to 12', '12 to none'].includes(step))
    .flatMap(({ step, weeks, relapseSeen, seenPer100FootWeeks }) => [
      ...weeks.map(
        (week, i): Estimand => ({
          name: `relapse-after-step-down risk.week${week}.${step}.all`,
          topic: 'relapse',
          method: 'Aalen–Johansen',
          what: `${step}, week ${week}`,
          unit: 'share',
          truths: known({ seen: relapseSeen[i], true: undefined }),
        }),
      ),
      {
        name: `relapse-after-step-down rate.${step}.all`,
        topic: 'relapse',
        method: 'Rate',
        what: step,
        unit: 'per 100 foot-weeks',
        truths: known({ seen: seenPer100FootWeeks, true: undefined }),
      },
    ]);
}

function lapses(large: LargeCohort): readonly Estimand[] {
  const { withoutLapse, withoutDiscontinuation } = large.truth.adherence;
  const covered: Estimand = {
    name: 'adherence daysCovered.median.all',
    topic: 'lapse',
    method: 'Median over feet, diaries and sensors',
    what: 'days covered',
    unit: 'share',
    truths: known({ seen: undefined, true: large.feet.medianDaysCovered() }),
  };
  const without = Object.entries({ lapse: withoutLapse, discontinuation: withoutDiscontinuation }).flatMap(
    ([outcome, byWeek]) =>
      [6, 12].map(
        (week): Estimand => ({
          name: `adherence without.week${week}.${outcome}.all`,
          topic: 'lapse',
          method: 'Kaplan–Meier, diaries and sensors',
          what: `without ${outcome} by week ${week}`,
          unit: 'share',
          truths: known({ seen: undefined, true: byWeek[week] }),
        }),
      ),
  );
  return [...without, covered];
}

function skin(large: LargeCohort): readonly Estimand[] {
  return Object.entries(SKIN_GROUPS).flatMap(([group, kinds]) => {
    const phases = large.truth.skinPer100FootWeeks.map(({ prescribedHours, footWeeks, rates }) => ({
      phase: `${prescribedHours} hours`,
      footWeeks,
      rate: kinds.reduce((sum, kind) => sum + (rates[kind] ?? 0), 0),
    }));
    const weeks = phases.reduce((sum, phase) => sum + phase.footWeeks, 0);
    const all = phases.reduce((sum, phase) => sum + phase.rate * phase.footWeeks, 0) / weeks;
    return [{ phase: 'all', rate: all }, ...phases].map(
      ({ phase, rate }): Estimand => ({
        name: `skin-safety rate.${group}.${phase}`,
        topic: 'skin',
        method: 'Rate',
        what: phase === 'all' ? group : `${group}, ${phase}`,
        unit: 'per 100 foot-weeks',
        truths: { true: rate },
      }),
    );
  });
}

function phases(large: LargeCohort): readonly Estimand[] {
  const shared = { topic: 'phases', method: 'Aalen–Johansen' } as const;
  const shares = large.truth.occupancy.flatMap(({ state, share }) =>
    [6, 12].map(
      (week): Estimand => ({
        ...shared,
        name: `phase-occupancy share.week${week}.${PHASES[state]}.all`,
        what: `${PHASES[state]}, week ${week}`,
        unit: 'share',
        truths: known({ seen: undefined, true: share[week] }),
      }),
    ),
  );
  const means = [24, 15, 12].map(
    (hours): Estimand => ({
      ...shared,
      name: `phase-occupancy meanWeeks.${hours} hours.all`,
      what: `${hours} hours, mean weeks of 24`,
      unit: 'weeks',
      truths: { true: large.feet.weeksOn(hours) },
    }),
  );
  const back = [6, 12, 16].map(
    (week): Estimand => ({
      ...shared,
      name: `phase-occupancy back.week${week}.all`,
      what: `back to full time by week ${week}`,
      unit: 'share',
      truths: { true: large.feet.backBy(week) },
    }),
  );
  return [...shares, ...means, ...back];
}
