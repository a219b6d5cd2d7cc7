import type { Cohort, Foot } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { formatCount, formatInterval, formatShare } from '../wording/format.ts';
import type { Analysis, Finding } from './finding.ts';
import type { MeanCountCurve } from './mean-count-curve.ts';
import {
  ANY_SKIN,
  EVENT_GROUPS,
  type EventInTherapy,
  eventsInTherapy,
  ofGroup,
  SORE,
} from './skin-safety/events.ts';
import { firstSores } from './skin-safety/first-sore.ts';
import { causeTable, fittingEffects } from './skin-safety/fitting.ts';
import {
  countMeasures,
  firstSoreMeasures,
  rateMeasures,
  reviewMeasures,
  skinTrace,
} from './skin-safety/measures.ts';
import { type EventRate, eventRates } from './skin-safety/rates.ts';
import { type Review, reviewOf } from './skin-safety/review.ts';
import { countTable, firstSoreTable, rateTable } from './skin-safety/tables.ts';
import { weekTicks } from './tools/week-ticks.ts';
import { fallingCurve } from './tools/curves.ts';
import { meanCountCurve } from './tools/mean-counts.ts';
import { analysed, countInfants } from './tools/people.ts';
import { rateRatioTable } from './tools/rate-comparison.ts';

/** How often does the brace trouble the skin, when, and is it reviewed in time? */
export function skinSafety(cohort: Cohort, plan: Plan): Analysis {
  const { feet } = cohort;
  const events = eventsInTherapy(feet);
  const rates = eventRates(events, feet, plan);
  const meanCounts = feet.length === 0 ? [] : countCurves(events, feet, plan);
  const sores = firstSores(feet, plan);
  const review = reviewOf(events, cohort.cutOff, plan);
  const fittings = fittingEffects(events, feet, plan);
  return {
    finding: {
      key: 'skin-safety',
      version: 1,
      question: 'How often does the brace trouble the skin, and is it seen to in time?',
      statement: statement(rates, feet, review, plan),
      population: { feet: feet.length, infants: countInfants(feet), leftOut: [] },
      measures: [
        ...rates.flatMap(rateMeasures),
        ...meanCounts.flatMap(curve => countMeasures(curve, plan)),
        ...sores.flatMap(group => firstSoreMeasures(group, plan)),
        ...reviewMeasures(review, plan),
      ],
      curves: sores.map(({ group, items, survival }) =>
        fallingCurve(
          { key: `first-blister-or-sore.${group}`, group, measure: 'Feet without blister or pressure sore' },
          items,
          survival,
          weekTicks(plan),
        ),
      ),
      tests: [],
      effects: fittings.flat(),
      meanCounts,
      tables: [
        rateTable(rates, 'phase', 'Events per 100 foot-weeks, by phase'),
        rateTable(rates, 'weeks', 'Events per 100 foot-weeks, by weeks since first fitting'),
        countTable(meanCounts, plan),
        firstSoreTable(sores, plan),
        causeTable(
          events,
          EVENT_GROUPS.filter(group => ANY_SKIN.kinds.includes(group.name) || group === ANY_SKIN),
        ),
        rateRatioTable('Skin events by fitting of the shell, rates compared', fittings),
      ],
      methods: methods(plan),
      cautions: [
        'Only what was recorded counts: slight redness is often not written down.',
        'Shells are opened or relieved because a foot is hard to fit, often after trouble with the skin: these ratios do not show what the fitting does.',
      ],
    },
    trace: { analysed: analysed(feet), ...skinTrace(rates, sores, review) },
  };
}

function countCurves(
  events: readonly EventInTherapy[],
  feet: readonly Foot[],
  plan: Plan,
): readonly MeanCountCurve[] {
  return EVENT_GROUPS.map(group => {
    const days = new Map<string, number[]>();
    for (const { episode, event } of ofGroup(events, group)) {
      const own = days.get(episode);
      if (own === undefined) days.set(episode, [event.day]);
      else own.push(event.day);
    }
    return meanCountCurve(
      { key: `meanCount.${group.name}`, group: group.name, measure: 'Events a foot' },
      feet.map(foot => ({
        episode: foot.episode,
        infant: foot.infant,
        endDay: foot.lastDay,
        days: days.get(foot.episode) ?? [],
      })),
      plan,
    );
  });
}

function statement(rates: readonly EventRate[], feet: readonly Foot[], review: Review, plan: Plan): string {
  const sores = rates.find(rate => rate.group === SORE && rate.stretch.by === 'all');
  if (sores === undefined || 'state' in sores.rate) {
    return 'No foot was in therapy for a day, so skin events cannot be described.';
  }
  const affected = new Set(sores.events.map(event => event.episode)).size;
  const count = sores.events.length;
  const first = `${formatShare(affected, feet.length)} feet had a blister or pressure sore (${formatCount(count)} in all): ${formatInterval(sores.rate, 'rate')} per 100 foot-weeks.`;
  if (review.due.length === 0) return first;
  return `${first} Within ${plan.skin.reviewWithinDays} days a clinician had seen ${formatShare(review.inTime.length, review.due.length)} of them.`;
}

function methods(plan: Plan): Finding['methods'] {
  const clustered = plan.clustering.byInfant;
  return [
    {
      text: 'Events are counted from first fitting to the last day of therapy. Rates are per 100 foot-weeks of therapy with exact Poisson intervals, events taken as independent.',
      cites: ['garwood-1936'],
    },
    {
      text: `Mean cumulative counts of events a foot with robust intervals${clustered ? ', clustered by infant' : ''}; the end of therapy censors.`,
      cites: ['lawless-nadeau-1995'],
    },
    {
      text: `Time to the first blister or pressure sore: Kaplan–Meier with pointwise log-log intervals${clustered ? ', standard errors clustered by infant' : ''}. The end of therapy, for whatever reason, censors: the curve tells what feet kept in therapy would meet.`,
      cites: ['kaplan-meier-1958', ...(clustered ? ['ying-wei-1994'] : [])],
    },
    {
      text: `Feet with and without a fitting are compared by exact rate ratios${clustered ? ', and by a Poisson model of events a foot with errors clustered by infant' : ''}. Shares reviewed in time have Wilson intervals.`,
      cites: ['breslow-day-1987', ...(clustered ? ['liang-zeger-1986'] : []), 'wilson-1927'],
    },
  ];
}
