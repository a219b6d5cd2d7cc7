import type { Plan } from '../../plan/plan.ts';
import type { Measure, TraceEntry } from '../finding.ts';
import type { MeanCountCurve } from '../mean-count-curve.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { meanCountBy } from '../tools/mean-counts.ts';
import { countInfants, episodesOf } from '../tools/people.ts';
import { traceItems } from '../tools/trace.ts';
import { type FirstSore, shareWithSore } from './first-sore.ts';
import type { EventRate } from './rates.ts';
import type { Review } from './review.ts';

function rateKey({ group, stretch }: EventRate): string {
  return `${group.name}.${stretch.name}`;
}

export function rateMeasures(rate: EventRate): readonly Measure[] {
  const { group, stretch, events } = rate;
  const name = stretch.by === 'all' ? group.name : `${group.name}, ${stretch.name}`;
  return [
    {
      key: `events.${rateKey(rate)}`,
      label: `Events: ${name}`,
      group: name,
      kind: 'count',
      unit: 'events',
      estimate: events.length,
      infants: countInfants(events),
    },
    {
      key: `feet.${rateKey(rate)}`,
      label: `Feet with ${name}`,
      group: name,
      kind: 'count',
      unit: 'feet',
      estimate: episodesOf(events).length,
      infants: countInfants(events),
    },
    {
      key: `footWeeks.${rateKey(rate)}`,
      label: `Foot-weeks at risk: ${name}`,
      group: name,
      kind: 'number',
      unit: 'foot-weeks',
      estimate: stretch.footDays / DAYS_IN_WEEK,
    },
    {
      key: `rate.${rateKey(rate)}`,
      label: `Rate: ${name}`,
      group: name,
      kind: 'rate',
      unit: 'per 100 foot-weeks',
      events: events.length,
      ...rate.rate,
    },
  ];
}

export function countMeasures(curve: MeanCountCurve, plan: Plan): readonly Measure[] {
  return plan.skin.reportWeeks.map(week => ({
    key: `meanCount.week${week}.${curve.group}`,
    label: `Mean number a foot by week ${week}: ${curve.group}`,
    group: curve.group,
    kind: 'number',
    unit: 'events a foot',
    n: curve.n,
    infants: curve.infants,
    events: curve.events,
    ...meanCountBy(curve, week),
  }));
}

export function firstSoreMeasures(group: FirstSore, plan: Plan): readonly Measure[] {
  const events = group.items.filter(item => item.cause === 1);
  const rests = { n: group.items.length, infants: countInfants(group.items), events: events.length };
  return [
    {
      key: `firstSore.${group.group}`,
      label: 'Feet with a blister or pressure sore',
      group: group.group,
      kind: 'count',
      unit: 'feet',
      estimate: events.length,
      infants: countInfants(events),
    },
    ...plan.skin.reportWeeks.map(
      (week): Measure => ({
        key: `firstSore.week${week}.${group.group}`,
        label: `First blister or sore by week ${week} of therapy`,
        group: group.group,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...shareWithSore(group, week, plan),
      }),
    ),
  ];
}

export function reviewMeasures(review: Review, plan: Plan): readonly Measure[] {
  const count = (key: string, label: string, items: Review['due']): Measure => ({
    key: `review.${key}`,
    label,
    kind: 'count',
    unit: 'events',
    estimate: items.length,
    infants: countInfants(items),
  });
  return [
    count('due', 'Blisters and sores whose time for review has passed', review.due),
    count('inTime', `Reviewed within ${plan.skin.reviewWithinDays} days`, review.inTime),
    count('notYetDue', 'Time for review not yet passed at the cut-off', review.notYetDue),
    {
      key: 'review.share',
      label: `Share reviewed within ${plan.skin.reviewWithinDays} days`,
      kind: 'proportion',
      unit: 'of 1',
      n: review.due.length,
      infants: countInfants(review.due),
      events: review.inTime.length,
      ...review.share,
    },
  ];
}

/** The episodes behind every count. */
export function skinTrace(
  rates: readonly EventRate[],
  sores: readonly FirstSore[],
  review: Review,
): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const rate of rates) {
    const where = rate.stretch.by === 'all' ? '' : `, ${rate.stretch.name}`;
    const rule = `${rate.group.name} within therapy${where}`;
    entries[`events.${rateKey(rate)}`] = traceItems(rule, rate.events);
    entries[`feet.${rateKey(rate)}`] = { rule, episodes: episodesOf(rate.events) };
  }
  for (const { group, items } of sores) {
    const rule = group === 'all' ? 'all feet' : `severity band ${group}`;
    entries[`feet.${group}`] = { rule, episodes: episodesOf(items) };
    entries[`firstSore.${group}`] = {
      rule: `${rule}; a blister or pressure sore within therapy`,
      episodes: episodesOf(items.filter(item => item.cause === 1)),
    };
  }
  entries['review.due'] = traceItems(
    'a blister or pressure sore whose time for review has passed by the cut-off',
    review.due,
  );
  entries['review.inTime'] = traceItems('reviewed in time', review.inTime);
  entries['review.notYetDue'] = traceItems('time for review not yet passed at the cut-off', review.notYetDue);
  return entries;
}
