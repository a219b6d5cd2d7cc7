import { BANDS, type Cohort, RELAPSE_CAUSES, type StepDown } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { poissonRateInterval } from '../statistics/rates/index.ts';
import { formatCount, formatInterval, formatShare, listInWords } from '../wording/format.ts';
import type { Analysis, Curve, FindingTable, Measure, TraceEntry } from './finding.ts';
import {
  type CausedFollowUp,
  climbingCurve,
  DAYS_IN_WEEK,
  incidenceByDay,
  type IncidenceCurve,
  incidenceOfEvent,
  withLimits,
} from './tools/curves.ts';
import { countInfants, episodesOf, population } from './tools/people.ts';

interface RelapseFollowUp extends CausedFollowUp {
  readonly stepDown: StepDown;
}

interface StepResult {
  readonly step: string;
  /** A band, or `all`. */
  readonly band: string;
  readonly stepDowns: readonly StepDown[];
  readonly atRisk: readonly RelapseFollowUp[];
  readonly relapses: number;
  readonly footDays: number;
  readonly incidence: IncidenceCurve;
  readonly rate: { readonly estimate: number; readonly lower?: number; readonly upper?: number } | undefined;
}

const OTHER = 'other step-downs';

/** How often does a foot slip back after the hours are cut, and after which cut? */
export function relapseAfterStepDown(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.stepDowns, stepDown =>
    stepDown.daysAtRisk > 0
      ? undefined
      : stepDown.toHours === 0
        ? 'not seen after the end of therapy'
        : 'no time at risk after the step-down',
  );
  const results = stepNames(cohort.stepDowns, plan).flatMap(step => {
    const stepDowns = cohort.stepDowns.filter(stepDown => stepName(stepDown, plan) === step);
    const bands = BANDS.filter(band => stepDowns.some(stepDown => stepDown.band === band));
    return [
      stepResult(step, 'all', stepDowns, plan),
      ...bands.map(band =>
        stepResult(
          step,
          band,
          stepDowns.filter(stepDown => stepDown.band === band),
          plan,
        ),
      ),
    ];
  });
  const overall = results.filter(result => result.band === 'all');
  return {
    finding: {
      key: 'relapse-after-step-down',
      version: 1,
      question: 'How often does a foot slip back after the hours are cut, and after which cut?',
      statement: statement(overall),
      population: { feet: episodesOf(used).length, infants: countInfants(used), leftOut },
      measures: results.flatMap(result => measures(result, plan)),
      curves: overall.filter(result => result.atRisk.length > 0).map(result => curve(result, plan)),
      tests: [],
      tables: [relapseTable(results, plan)],
      methods: [
        {
          text: `Relapse is a bisector position worse by ${plan.relapse.bisectorWorseBy} or more than at the step-down${plan.relapse.longerHoursCount ? ', or a return to longer hours' : ''}. The risk is the Aalen–Johansen cumulative incidence; ${plan.relapse.nextStepDown === 'competing' ? 'the next step-down, referral and withdrawal compete' : 'referral and withdrawal compete, and the next step-down censors'}.`,
          cites: ['aalen-johansen-1978'],
        },
        {
          text: 'Rates are relapses per 100 foot-weeks at risk with exact Poisson intervals, feet taken as independent.',
          cites: ['garwood-1936'],
        },
      ],
      cautions: [
        'The therapist cut the hours of feet that were doing well: risks after different cuts compare different feet.',
        'After therapy a foot is followed only as long as it is seen; feet not seen after the end are counted but not followed.',
      ],
    },
    trace: { ...trace, ...countTrace(results) },
  };
}

function stepNames(stepDowns: readonly StepDown[], plan: Plan): readonly string[] {
  const planned = plannedSteps(plan);
  return stepDowns.some(stepDown => !planned.includes(stepDown.step)) ? [...planned, OTHER] : planned;
}

function plannedSteps(plan: Plan): readonly string[] {
  const hours = [...plan.phases.hours].sort((a, b) => b - a);
  return hours.map((from, place) => `${from} to ${hours[place + 1] ?? 'none'}`);
}

function stepName(stepDown: StepDown, plan: Plan): string {
  return plannedSteps(plan).includes(stepDown.step) ? stepDown.step : OTHER;
}

function stepResult(step: string, band: string, stepDowns: readonly StepDown[], plan: Plan): StepResult {
  const atRisk = stepDowns
    .filter(stepDown => stepDown.daysAtRisk > 0)
    .map(stepDown => ({
      stepDown,
      episode: stepDown.episode,
      infant: stepDown.infant,
      day: stepDown.daysAtRisk,
      cause: stepDown.cause,
    }));
  const relapses = atRisk.filter(item => item.cause === 1).length;
  const footDays = atRisk.reduce((sum, item) => sum + item.day, 0);
  return {
    step,
    band,
    stepDowns,
    atRisk,
    relapses,
    footDays,
    incidence: incidenceOfEvent(atRisk, plan),
    rate: rateOf(relapses, footDays, plan),
  };
}

function rateOf(relapses: number, footDays: number, plan: Plan) {
  if (footDays === 0) return undefined;
  const rate = poissonRateInterval(relapses, footDays / DAYS_IN_WEEK / 100, { level: plan.level });
  return withLimits(rate.estimate, rate.lower, rate.upper);
}

function keyOf(result: StepResult): string {
  return `${result.step}.${result.band}`;
}

function measures(result: StepResult, plan: Plan): readonly Measure[] {
  const group = result.band === 'all' ? result.step : `${result.step}, ${result.band}`;
  const rests = { n: result.atRisk.length, infants: countInfants(result.atRisk), events: result.relapses };
  const count = (key: string, label: string, estimate: number, infants: number): Measure => ({
    key: `${key}.${keyOf(result)}`,
    label,
    group,
    kind: 'count',
    unit: 'step-downs',
    estimate,
    infants,
  });
  return [
    count('stepDowns', 'Step-downs', result.stepDowns.length, countInfants(result.stepDowns)),
    count('followed', 'Step-downs followed', result.atRisk.length, countInfants(result.atRisk)),
    count(
      'relapses',
      'Relapses',
      result.relapses,
      countInfants(result.atRisk.filter(item => item.cause === 1)),
    ),
    ...plan.relapse.reportWeeks.map(
      (week): Measure => ({
        key: `risk.week${week}.${keyOf(result)}`,
        label: `Risk of relapse by week ${week}`,
        group,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...(result.atRisk.length === 0
          ? { state: 'no data' }
          : incidenceByDay(result.incidence, week * DAYS_IN_WEEK)),
      }),
    ),
    {
      key: `footWeeks.${keyOf(result)}`,
      label: 'Foot-weeks at risk',
      group,
      kind: 'number',
      unit: 'foot-weeks',
      estimate: result.footDays / DAYS_IN_WEEK,
    },
    {
      key: `rate.${keyOf(result)}`,
      label: 'Relapse rate',
      group,
      kind: 'rate',
      unit: 'per 100 foot-weeks',
      ...rests,
      ...(result.rate ?? { state: 'no data' }),
    },
  ];
}

function countTrace(results: readonly StepResult[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const result of results) {
    const of =
      result.band === 'all' ? `step-down ${result.step}` : `step-down ${result.step}, band ${result.band}`;
    entries[`stepDowns.${keyOf(result)}`] = { rule: of, episodes: episodesOf(result.stepDowns) };
    entries[`followed.${keyOf(result)}`] = {
      rule: `${of}, followed for at least a day`,
      episodes: episodesOf(result.atRisk),
    };
    for (const [code, cause] of RELAPSE_CAUSES.entries()) {
      const key = code === 1 ? 'relapses' : `ended as ${cause}`;
      entries[`${key}.${keyOf(result)}`] = {
        rule: `${of}; follow-up ended as: ${cause}`,
        episodes: episodesOf(result.atRisk.filter(item => item.cause === code)),
      };
    }
  }
  return entries;
}

function curve(result: StepResult, plan: Plan): Curve {
  const last = plan.relapse.weeksAfterTherapy;
  const ticks = [0, ...plan.relapse.reportWeeks.filter(week => week <= last)];
  return climbingCurve(
    { key: `risk.${result.step}`, group: result.step, measure: 'Step-downs followed by relapse' },
    result.atRisk,
    result.incidence,
    ticks,
  );
}

function relapseTable(results: readonly StepResult[], plan: Plan): FindingTable {
  return {
    key: 'risk',
    title: 'Relapse after each step-down',
    columns: [
      { key: 'step', label: 'Step-down (hours)', kind: 'text' },
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'stepDowns', label: 'Step-downs', kind: 'count' },
      { key: 'followed', label: 'Followed', kind: 'count' },
      { key: 'relapses', label: 'Relapses', kind: 'count' },
      ...plan.relapse.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `Risk by week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
      { key: 'rate', label: 'Rate', unit: 'per 100 foot-weeks', kind: 'rate' },
    ],
    rows: results.map(result => ({
      step: result.step,
      band: result.band,
      stepDowns: result.stepDowns.length,
      followed: result.atRisk.length,
      relapses: result.relapses,
      ...Object.fromEntries(
        plan.relapse.reportWeeks.map(week => [
          `week${week}`,
          result.atRisk.length === 0 ? 'no data' : incidenceByDay(result.incidence, week * DAYS_IN_WEEK),
        ]),
      ),
      rate: result.rate ?? 'no data',
    })),
    notes: ['Rows for all bands include feet whose band is not known.'],
  };
}

function statement(overall: readonly StepResult[]): string {
  const followed = overall.filter(result => result.atRisk.length > 0);
  if (followed.length === 0) return 'No step-down was followed, so the risk of relapse cannot be given.';
  const relapses = followed.map(
    result =>
      `${formatShare(result.relapses, result.atRisk.length)} after ${result.step === OTHER ? OTHER : `the step from ${result.step}`}`,
  );
  const rates = followed.flatMap(result =>
    result.rate === undefined ? [] : [`${formatInterval(result.rate, 'rate')} (${result.step})`],
  );
  const total = followed.reduce((sum, result) => sum + result.atRisk.length, 0);
  return `Of ${formatCount(total)} step-downs followed, the foot relapsed in ${listInWords(relapses)}. Relapses per 100 foot-weeks at risk: ${listInWords(rates)}.`;
}
