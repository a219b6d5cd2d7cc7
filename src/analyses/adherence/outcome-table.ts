import type { Plan } from '../../plan/plan.ts';
import type { Cell, FindingTable } from '../finding.ts';
import { countInfants } from '../tools/people.ts';
import {
  eventsOf,
  medianOf,
  type Outcome,
  type OutcomeGroup,
  weeksShown,
  without,
} from './outcome-groups.ts';

export function outcomeTable(outcome: Outcome, groups: readonly OutcomeGroup[], plan: Plan): FindingTable {
  const shown = groups.filter(group => group.outcome === outcome);
  const ticks = plan.figures.weekTicks.filter(week => week > 0);
  return {
    key: outcome,
    title: outcome === 'lapse' ? 'Time to lapse' : 'Time to discontinuation',
    columns: [
      { key: 'group', label: 'Feet or spells', kind: 'text' },
      { key: 'followed', label: 'Followed', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'events', label: outcome === 'lapse' ? 'Lapses' : 'Discontinuations', kind: 'count' },
      { key: 'median', label: 'Median time', unit: 'weeks', kind: 'time' },
      ...ticks.map(week => ({
        key: `week${week}`,
        label: `Without ${outcome} at week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: shown.map(group => {
      const median = medianOf(group);
      return {
        group: nameOf(group),
        followed: group.items.length,
        infants: countInfants(group.items),
        events: eventsOf(group).length,
        median: 'state' in median ? median.state : median,
        ...Object.fromEntries(
          weeksShown(group, plan).map((week): [string, Cell] => {
            const value = without(group, week);
            return [`week${week}`, 'state' in value ? value.state : value];
          }),
        ),
      };
    }),
    notes: ['Feet are timed from first fitting, spells from the first day of the phase.'],
  };
}

function nameOf(group: OutcomeGroup): string {
  if (group.by === 'band') return `${group.name} feet`;
  return group.by === 'phase' ? `spells of ${group.name}` : 'all feet';
}
