import { BANDS, type Cohort, type StepDown } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import type { Analysis, Curve, Finding } from './finding.ts';
import { stepMeasures, stepTrace } from './relapse/measures.ts';
import { relapsePredictors } from './relapse/predictors.ts';
import { repeatedMeasures, repeatedRelapses, repeatedTable } from './relapse/repeated-relapses.ts';
import { relapseStatement } from './relapse/statement.ts';
import {
  ANY,
  followUpOf,
  plannedSteps,
  reasonNotFollowed,
  type StepResult,
  stepResults,
} from './relapse/step-results.ts';
import { riskTable, signTable } from './relapse/tables.ts';
import { climbingCurve } from './tools/curves.ts';
import { countInfants, episodesOf, type OfOneFoot, population } from './tools/people.ts';
import { type RateGroup, rateEffects, rateRatioTable } from './tools/rate-comparison.ts';

/** How often does a foot slip back after the hours are cut, and after which cut? */
export function relapseAfterStepDown(cohort: Cohort, plan: Plan): Analysis {
  const { stepDowns } = cohort;
  const { used, leftOut, trace } = population(cohort.feet, reasonsNotFollowed(stepDowns));
  const results = stepResults(stepDowns, plan);
  const overall = results.filter(result => result.band === 'all' && result.step !== ANY);
  const ratios = rateRatios(results, plan);
  const meanCounts = repeatedRelapses(cohort.feet, stepDowns, plan);
  const predictors = relapsePredictors(cohort.feet, stepDowns, plan);
  return {
    finding: {
      key: 'relapse-after-step-down',
      version: 1,
      question: 'How often does a foot slip back after the hours are cut, and after which cut?',
      statement: relapseStatement(results, plan),
      population: { feet: episodesOf(used).length, infants: countInfants(used), leftOut },
      measures: [...results.flatMap(stepMeasures), ...repeatedMeasures(meanCounts, plan)],
      curves: overall.filter(result => result.atRisk.length > 0).map(result => riskCurve(result, plan)),
      tests: [],
      effects: [...ratios.flat(), ...predictors.effects],
      meanCounts,
      tables: [
        riskTable(results, plan),
        signTable(results),
        rateRatioTable('Relapse rates compared', ratios),
        repeatedTable(meanCounts, plan),
        predictors.table,
      ],
      methods: methods(plan),
      cautions: [
        'The therapist cut the hours of feet that were doing well: risks after different cuts compare different feet.',
        'After therapy a foot is followed only as long as it is seen; feet not seen after the end are counted but not followed.',
        ...predictors.cautions,
      ],
    },
    trace: Object.assign({}, trace, ...results.map(stepTrace)) as Analysis['trace'],
  };
}

/**
 * Why no step-down of a foot could be followed. Of a foot with several, none of them followed, the reason of the one to
 * none stands.
 */
function reasonsNotFollowed(stepDowns: readonly StepDown[]): (foot: OfOneFoot) => string | undefined {
  const reasons = new Map<string, string | undefined>();
  for (const stepDown of stepDowns) {
    const reason = reasonNotFollowed(stepDown);
    const known = reasons.has(stepDown.episode);
    if (!known || reason === undefined) reasons.set(stepDown.episode, reason);
    else if (reasons.get(stepDown.episode) !== undefined && stepDown.toHours === 0) {
      reasons.set(stepDown.episode, reason);
    }
  }
  return ({ episode }) => (reasons.has(episode) ? reasons.get(episode) : 'no step-down');
}

/** Between the steps of the plan, then between bands over all steps; the first named is the reference. */
function rateRatios(results: readonly StepResult[], plan: Plan) {
  const groupOf = (name: string, result: StepResult | undefined): RateGroup => ({
    name,
    items: (result?.atRisk ?? []).map(item => ({
      episode: item.episode,
      infant: item.infant,
      events: item.cause === 1 ? 1 : 0,
      days: item.day,
    })),
  });
  const find = (step: string, band: string): StepResult | undefined =>
    results.find(result => result.step === step && result.band === band);
  const measure = 'Relapse rate ratio';
  const steps = plannedSteps(plan).map(step => groupOf(step, find(step, 'all')));
  const bands = BANDS.map(band => groupOf(band, find(ANY, band)));
  return [
    rateEffects({ key: 'steps', measure: `${measure} between steps`, groups: steps }, plan),
    rateEffects({ key: 'bands', measure: `${measure} between bands`, groups: bands }, plan),
  ];
}

function riskCurve(result: StepResult, plan: Plan): Curve {
  const last = plan.relapse.weeksAfterTherapy;
  const ticks = [0, ...plan.relapse.reportWeeks.filter(week => week <= last)];
  return climbingCurve(
    { key: `risk.${result.step}`, group: result.step, measure: 'Step-downs followed by relapse' },
    result.stepDowns.filter(stepDown => stepDown.daysAtRisk > 0).map(followUpOf),
    result.incidence,
    ticks,
  );
}

function methods(plan: Plan): Finding['methods'] {
  const clustered = plan.clustering.byInfant;
  return [
    {
      text: `Relapse is a bisector position worse by ${plan.relapse.bisectorWorseBy} or more than at the step-down${plan.relapse.longerHoursCount ? ', or a return to longer hours' : ''}. The risk is the Aalen–Johansen cumulative incidence; ${plan.relapse.nextStepDown === 'competing' ? 'the next step-down, referral and withdrawal compete' : 'referral and withdrawal compete, and the next step-down censors'}.${clustered ? ' Standard errors allow for several step-downs of one infant.' : ''}`,
      cites: ['aalen-johansen-1978', ...(clustered ? ['ying-wei-1994'] : [])],
    },
    {
      text: 'A risk of 0 has the exact upper limit of none among those of whom it is known.',
      cites: ['clopper-pearson-1934'],
    },
    {
      text: `Rates are relapses per 100 foot-weeks at risk with exact Poisson intervals, feet taken as independent. Their ratios are given with exact intervals${clustered ? ', and from a Poisson model with errors clustered by infant' : ''}.`,
      cites: ['garwood-1936', 'breslow-day-1987', ...(clustered ? ['liang-zeger-1986'] : [])],
    },
    {
      text: 'Repeated relapses are the mean cumulative count a foot since first fitting with robust intervals; the end of observation censors.',
      cites: ['lawless-nadeau-1995'],
    },
    {
      text: `What goes with relapse: cause-specific Cox models with the step as stratum${clustered ? ', clustered by infant' : ''}, ties by Efron. Each feature alone, then together, on the step-downs where all are recorded; adherence is the mean of the ${plan.relapse.adherenceDays} days before the step-down.`,
      cites: ['cox-1972', 'efron-1977', ...(clustered ? ['lin-wei-1989'] : []), 'firth-1993'],
    },
  ];
}
