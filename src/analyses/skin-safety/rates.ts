import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { poissonRateInterval } from '../../statistics/rates/index.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { EVENT_GROUPS, type EventGroup, type EventInTherapy, ofGroup } from './events.ts';

/** A stretch of therapy: all of it, the days of one phase, or a band of weeks since first fitting. */
export interface Stretch {
  readonly name: string;
  readonly by: 'all' | 'phase' | 'weeks';
  readonly holds: (event: EventInTherapy) => boolean;
  readonly footDays: number;
}

/** Events of one group in one stretch, and their rate. */
export interface EventRate {
  readonly group: EventGroup;
  readonly stretch: Stretch;
  readonly events: readonly EventInTherapy[];
  readonly rate:
    | { readonly estimate: number; readonly lower: number; readonly upper: number }
    | { readonly state: string };
}

/** Rates of every group of events in every stretch. */
export function eventRates(
  events: readonly EventInTherapy[],
  feet: readonly Foot[],
  plan: Plan,
): readonly EventRate[] {
  const stretches = stretchesOf(feet, plan);
  return EVENT_GROUPS.flatMap(group => {
    const own = ofGroup(events, group);
    return stretches.map(stretch => {
      const within = own.filter(stretch.holds);
      return { group, stretch, events: within, rate: rateOf(within.length, stretch.footDays, plan) };
    });
  });
}

function rateOf(events: number, footDays: number, plan: Plan): EventRate['rate'] {
  if (footDays === 0) return { state: 'no data' };
  const {
    estimate,
    lower = 0,
    upper,
  } = poissonRateInterval(events, footDays / DAYS_IN_WEEK / 100, {
    level: plan.level,
  });
  return upper === undefined ? { state: 'no data' } : { estimate, lower, upper };
}

/** Days from first fitting to the day before the last; that one adds no time at risk, though its events count. */
function stretchesOf(feet: readonly Foot[], plan: Plan): readonly Stretch[] {
  const total = (days: (foot: Foot) => number): number => feet.reduce((sum, foot) => sum + days(foot), 0);
  const phases = [...plan.phases.hours].sort((a, b) => b - a);
  const ends = [...plan.skin.weekBands].sort((a, b) => a - b);
  return [
    { name: 'all', by: 'all', holds: () => true, footDays: total(foot => foot.lastDay) },
    ...phases.map(
      (hours): Stretch => ({
        name: `${hours} hours`,
        by: 'phase',
        holds: event => event.prescribedHours === hours,
        footDays: total(foot => daysAt(foot, hours)),
      }),
    ),
    ...[...ends, Infinity].map((end, place): Stretch => {
      const after = ends[place - 1] ?? 0;
      const from = after * DAYS_IN_WEEK;
      const to = end * DAYS_IN_WEEK;
      return {
        name: end === Infinity ? `after week ${after}` : `weeks ${after} to ${end}`,
        by: 'weeks',
        holds: ({ event }) => event.day >= from && event.day < to,
        footDays: total(foot => Math.max(0, Math.min(foot.lastDay, to) - from)),
      };
    }),
  ];
}

function daysAt(foot: Foot, hours: number): number {
  let days = 0;
  for (const spell of foot.spells) {
    if (spell.prescribedHours === hours) {
      days += Math.max(0, Math.min(spell.endDay + 1, foot.lastDay) - Math.max(spell.startDay, 0));
    }
  }
  return days;
}
