import type { Plan } from '../../plan/plan.ts';
import type { Cell, FindingTable } from '../finding.ts';
import type { MeanCountCurve } from '../mean-count-curve.ts';
import { meanCountBy } from '../tools/mean-counts.ts';
import { EVENT_GROUPS } from './events.ts';
import { type FirstSore, shareWithSore } from './first-sore.ts';
import type { EventRate, Stretch } from './rates.ts';

/** One row an event, one column a stretch. */
export function rateTable(rates: readonly EventRate[], by: Stretch['by'], title: string): FindingTable {
  const shown = rates.filter(rate => rate.stretch.by === by || rate.stretch.by === 'all');
  const stretches = [...new Map(shown.map(rate => [rate.stretch.name, rate.stretch])).values()];
  return {
    key: by === 'phase' ? 'rates-by-phase' : 'rates-by-weeks',
    title,
    columns: [
      { key: 'kind', label: 'Event', kind: 'text' },
      { key: 'events', label: 'Events', kind: 'count' },
      ...stretches.map(stretch => ({
        key: stretch.name,
        label: stretch.by === 'all' ? 'All of therapy' : stretch.name,
        unit: 'per 100 foot-weeks',
        kind: 'rate' as const,
      })),
    ],
    rows: EVENT_GROUPS.map(group => {
      const own = shown.filter(rate => rate.group === group);
      return {
        kind: group.name,
        events: own.find(rate => rate.stretch.by === 'all')?.events.length,
        ...Object.fromEntries(
          own.map(({ stretch, rate }): [string, Cell] => [stretch.name, 'state' in rate ? rate.state : rate]),
        ),
      };
    }),
    notes: ['Exact intervals, events taken as independent.'],
  };
}

export function countTable(curves: readonly MeanCountCurve[], plan: Plan): FindingTable {
  return {
    key: 'mean-counts',
    title: 'Mean number of events a foot, by weeks of therapy',
    columns: [
      { key: 'kind', label: 'Event', kind: 'text' },
      { key: 'events', label: 'Events', kind: 'count' },
      ...plan.skin.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: 'a foot',
        kind: 'number' as const,
      })),
    ],
    rows: curves.map(curve => ({
      kind: curve.group,
      events: curve.events,
      ...Object.fromEntries(
        plan.skin.reportWeeks.map((week): [string, Cell] => {
          const value = meanCountBy(curve, week);
          return [`week${week}`, 'state' in value ? value.state : value];
        }),
      ),
    })),
    notes: ['As if every foot stayed in therapy: the end of therapy censors.'],
  };
}

export function firstSoreTable(groups: readonly FirstSore[], plan: Plan): FindingTable {
  return {
    key: 'first-blister-or-sore',
    title: 'Feet with a first blister or pressure sore, by weeks of therapy',
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'events', label: 'With blister or sore', kind: 'count' },
      ...plan.skin.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: groups.map(group => ({
      group: group.group,
      feet: group.items.length,
      events: group.items.filter(item => item.cause === 1).length,
      ...Object.fromEntries(
        plan.skin.reportWeeks.map((week): [string, Cell] => {
          const value = shareWithSore(group, week, plan);
          return [`week${week}`, 'state' in value ? value.state : value];
        }),
      ),
    })),
    notes: ['The row for all bands includes feet whose band is not known.'],
  };
}
