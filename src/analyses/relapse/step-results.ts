import { BANDS, type StepDown } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { poissonRateInterval } from '../../statistics/rates/index.ts';
import type { Cell } from '../finding.ts';
import {
  type CausedFollowUp,
  DAYS_IN_WEEK,
  type IncidenceCurve,
  incidenceOfEvent,
  withLimits,
} from '../tools/curves.ts';
import { type Risk, riskBy } from './risk.ts';

export interface RelapseFollowUp extends CausedFollowUp {
  readonly stepDown: StepDown;
}

/** What followed the step-downs of one name and band. */
export interface StepResult {
  readonly step: string;
  /** A band, or `all`. */
  readonly band: string;
  readonly stepDowns: readonly StepDown[];
  readonly atRisk: readonly RelapseFollowUp[];
  readonly relapsed: readonly RelapseFollowUp[];
  readonly notSeenAfter: readonly StepDown[];
  /** Without a bisector position to compare with. */
  readonly noReference: readonly StepDown[];
  readonly footDays: number;
  readonly incidence: IncidenceCurve;
  /** One for each week of the plan. */
  readonly risks: readonly { readonly week: number; readonly risk: Risk }[];
  readonly rate: (Exclude<Cell, string | number | undefined> & { readonly estimate: number }) | undefined;
}

export const OTHER = 'other step-downs';
export const ANY = 'any step-down';

/** Why a step-down has no time at risk. */
export function reasonNotFollowed(stepDown: StepDown): string | undefined {
  if (stepDown.daysAtRisk > 0) return undefined;
  if (stepDown.toHours > 0) return 'no time at risk after the step-down';
  return stepDown.referencePosition === undefined
    ? 'no bisector position to compare with after the end of therapy'
    : 'not seen after the end of therapy';
}

/** Results by step, then band, `all` first; the steps of the plan, other ones where there are any, then all together. */
export function stepResults(stepDowns: readonly StepDown[], plan: Plan): readonly StepResult[] {
  const planned = plannedSteps(plan);
  const other = stepDowns.some(stepDown => !planned.includes(stepDown.step)) ? [OTHER] : [];
  return [...planned, ...other, ANY].flatMap(step => {
    const named =
      step === ANY ? stepDowns : stepDowns.filter(stepDown => stepNameOf(stepDown, planned) === step);
    const bands = BANDS.filter(band => named.some(stepDown => stepDown.band === band));
    return [
      stepResult(step, 'all', named, plan),
      ...bands.map(band =>
        stepResult(
          step,
          band,
          named.filter(stepDown => stepDown.band === band),
          plan,
        ),
      ),
    ];
  });
}

/** `24 to 15`, `15 to 12`, `12 to none` for the hours of the plan. */
export function plannedSteps(plan: Plan): readonly string[] {
  const hours = [...plan.phases.hours].sort((a, b) => b - a);
  return hours.map((from, place) => `${from} to ${hours[place + 1] ?? 'none'}`);
}

function stepNameOf(stepDown: StepDown, planned: readonly string[]): string {
  return planned.includes(stepDown.step) ? stepDown.step : OTHER;
}

export function keyOf(result: StepResult): string {
  return `${result.step}.${result.band}`;
}

export function followUpOf(stepDown: StepDown): RelapseFollowUp {
  return {
    stepDown,
    episode: stepDown.episode,
    infant: stepDown.infant,
    day: stepDown.daysAtRisk,
    cause: stepDown.cause,
  };
}

function stepResult(step: string, band: string, stepDowns: readonly StepDown[], plan: Plan): StepResult {
  const atRisk = stepDowns.filter(stepDown => stepDown.daysAtRisk > 0).map(followUpOf);
  const relapsed = atRisk.filter(item => item.cause === 1);
  const footDays = atRisk.reduce((sum, item) => sum + item.day, 0);
  const incidence = incidenceOfEvent(atRisk, plan);
  return {
    step,
    band,
    stepDowns,
    atRisk,
    relapsed,
    notSeenAfter: stepDowns.filter(
      stepDown => reasonNotFollowed(stepDown) === 'not seen after the end of therapy',
    ),
    noReference: stepDowns.filter(stepDown => stepDown.referencePosition === undefined),
    footDays,
    incidence,
    risks: plan.relapse.reportWeeks.map(week => ({ week, risk: riskBy(atRisk, incidence, week, plan) })),
    rate: rateOf(relapsed.length, footDays, plan),
  };
}

function rateOf(relapses: number, footDays: number, plan: Plan) {
  if (footDays === 0) return undefined;
  const rate = poissonRateInterval(relapses, footDays / DAYS_IN_WEEK / 100, { level: plan.level });
  return withLimits(rate.estimate, rate.lower, rate.upper);
}
