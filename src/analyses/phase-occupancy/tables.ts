import type { Plan } from '../../plan/plan.ts';
import type { Cell, FindingTable } from '../finding.ts';
import type { OccupancyShares } from '../occupancy-shares.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import type { BackToFullTime } from './back-to-full-time.ts';
import type { GroupOccupancy } from './shares.ts';

/** A share with its limits at one place of the tables of shares. */
export function shareAt(shares: OccupancyShares, state: number, place: number) {
  return withLimits(
    shares.share[state]?.[place] ?? 0,
    shares.lower[state]?.[place],
    shares.upper[state]?.[place],
  );
}

export function weekTable(all: GroupOccupancy): FindingTable {
  const { shares } = all;
  return {
    key: 'by-week',
    title: 'Share of feet in each phase, by week since first fitting',
    columns: [
      { key: 'week', label: 'Week', kind: 'number' },
      { key: 'inTherapy', label: 'In therapy', kind: 'count' },
      ...shares.states.map(state => ({ key: state, label: state, unit: '%', kind: 'proportion' as const })),
    ],
    rows: shares.week.map((week, place) => ({
      week,
      inTherapy: shares.inTherapy[place],
      ...Object.fromEntries(
        shares.states.map((state, row): [string, Cell] => [state, shareAt(shares, row, place)]),
      ),
    })),
    notes: ['Left: referred for casting or surgery, or withdrawn. In therapy: feet followed in a phase.'],
  };
}

export function meanWeeksTable(groups: readonly GroupOccupancy[], plan: Plan): FindingTable {
  return {
    key: 'mean-weeks',
    title: `Mean weeks in each phase in the first ${plan.occupancy.weeks} weeks`,
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      ...(groups[0]?.shares.states ?? []).map(state => ({
        key: state,
        label: state,
        unit: 'weeks',
        kind: 'time' as const,
      })),
    ],
    rows: groups.map(({ group, feet, shares, meanWeeks }) => ({
      group,
      feet: feet.length,
      infants: countInfants(feet),
      ...Object.fromEntries(
        shares.states.map((state, place): [string, Cell] => {
          const mean = meanWeeks[place];
          return [state, mean === undefined || 'state' in mean ? mean?.state : mean];
        }),
      ),
    })),
    notes: ['The row for all bands includes feet whose band is not known.'],
  };
}

export function returnTable(returns: readonly BackToFullTime[], plan: Plan): FindingTable {
  return {
    key: 'back-to-full-time',
    title: 'Feet that had gone back to full time',
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'back', label: 'Gone back', kind: 'count' },
      ...plan.occupancy.returnWeeks.map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: returns.map(({ group, items, risks }) => ({
      group,
      feet: items.length,
      back: items.filter(item => item.cause === 1).length,
      ...Object.fromEntries(
        risks.map(({ week, risk }): [string, Cell] => [`week${week}`, 'state' in risk ? risk.state : risk]),
      ),
    })),
    notes: ['Finishing, and leaving therapy, compete with going back.'],
  };
}
