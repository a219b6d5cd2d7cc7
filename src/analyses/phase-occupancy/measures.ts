import type { Plan } from '../../plan/plan.ts';
import type { Measure, TraceEntry } from '../finding.ts';
import { countInfants, episodesOf } from '../tools/people.ts';
import type { BackToFullTime } from './back-to-full-time.ts';
import type { GroupOccupancy } from './shares.ts';
import { shareAt } from './tables.ts';

/** Shares are quoted at the weeks of the axis and at the last; every week stands in the tables of shares. */
export function occupancyMeasures(occupancy: GroupOccupancy, plan: Plan): readonly Measure[] {
  const { group, feet, shares, meanWeeks } = occupancy;
  const rests = { n: feet.length, infants: countInfants(feet) };
  const quoted = shares.week
    .map((week, place) => ({ week, place }))
    .filter(({ week }) => plan.figures.weekTicks.includes(week) || week === plan.occupancy.weeks);
  return [
    {
      key: `feet.${group}`,
      label: 'Feet',
      group,
      kind: 'count',
      unit: 'feet',
      estimate: rests.n,
      infants: rests.infants,
    },
    ...shares.states.flatMap((state, row): Measure[] => [
      {
        key: `meanWeeks.${state}.${group}`,
        label: `Mean weeks: ${state}`,
        group,
        kind: 'time',
        unit: 'weeks',
        ...rests,
        ...(meanWeeks[row] ?? { state: 'no data' }),
      },
      ...quoted.map(
        ({ week, place }): Measure => ({
          key: `share.week${week}.${state}.${group}`,
          label: `Share at week ${week}: ${state}`,
          group,
          kind: 'proportion',
          unit: 'of 1',
          ...rests,
          ...shareAt(shares, row, place),
        }),
      ),
    ]),
  ];
}

export function returnMeasures({ group, items, risks }: BackToFullTime): readonly Measure[] {
  const back = items.filter(item => item.cause === 1);
  const rests = { n: items.length, infants: countInfants(items), events: back.length };
  return [
    {
      key: `back.${group}`,
      label: 'Gone back to full time',
      group,
      kind: 'count',
      unit: 'feet',
      estimate: back.length,
      infants: countInfants(back),
    },
    ...risks.map(
      ({ week, risk }): Measure => ({
        key: `back.week${week}.${group}`,
        label: `Gone back to full time by week ${week}`,
        group,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...risk,
      }),
    ),
  ];
}

export function occupancyTrace(
  groups: readonly GroupOccupancy[],
  returns: readonly BackToFullTime[],
): Readonly<Record<string, TraceEntry>> {
  const of = (group: string): string =>
    group === 'all' ? 'a phase on record' : `severity band ${group}, a phase on record`;
  return Object.fromEntries([
    ...groups.map(({ group, feet }) => [`feet.${group}`, { rule: of(group), episodes: episodesOf(feet) }]),
    ...returns.map(({ group, items }) => [
      `back.${group}`,
      {
        rule: `${of(group)}; a return to full time`,
        episodes: episodesOf(items.filter(item => item.cause === 1)),
      },
    ]),
  ]) as Readonly<Record<string, TraceEntry>>;
}
