import { BANDS, type Foot, type StepDown } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { FindingTable, Measure } from '../finding.ts';
import type { MeanCountCurve } from '../mean-count-curve.ts';
import { meanCountBy, meanCountCurve, type RepeatedEvents } from '../tools/mean-counts.ts';
import { byGroup } from '../tools/people.ts';

/** The mean number of relapses a foot since first fitting, for all feet and by band. */
export function repeatedRelapses(
  feet: readonly Foot[],
  stepDowns: readonly StepDown[],
  plan: Plan,
): readonly MeanCountCurve[] {
  if (feet.length === 0) return [];
  const byEpisode = new Map<string, StepDown[]>();
  for (const stepDown of stepDowns) {
    const own = byEpisode.get(stepDown.episode);
    if (own === undefined) byEpisode.set(stepDown.episode, [stepDown]);
    else own.push(stepDown);
  }
  const rows = feet.map(foot => ({ band: foot.band, events: relapsesOf(foot, byEpisode.get(foot.episode)) }));
  const groups = [{ group: 'all', items: rows }, ...byGroup(rows, BANDS, row => row.band)];
  return groups.map(({ group, items }) =>
    meanCountCurve(
      { key: `meanCount.${group}`, group, measure: 'Relapses a foot' },
      items.map(item => item.events),
      plan,
    ),
  );
}

/** Observation ends with therapy, or with the last time at risk where that is later. */
function relapsesOf(foot: Foot, stepDowns: readonly StepDown[] = []): RepeatedEvents {
  const ends = stepDowns.map(stepDown => stepDown.day + stepDown.daysAtRisk);
  return {
    episode: foot.episode,
    infant: foot.infant,
    endDay: Math.max(foot.lastDay, ...ends),
    days: stepDowns
      .filter(stepDown => stepDown.cause === 1)
      .map(stepDown => stepDown.day + stepDown.daysAtRisk),
  };
}

export function repeatedMeasures(curves: readonly MeanCountCurve[], plan: Plan): readonly Measure[] {
  return curves.flatMap(curve =>
    weeksOf(plan).map(
      (week): Measure => ({
        key: `meanCount.week${week}.${curve.group}`,
        label: `Mean relapses a foot by week ${week}`,
        group: curve.group,
        kind: 'number',
        unit: 'relapses a foot',
        n: curve.n,
        infants: curve.infants,
        events: curve.events,
        ...meanCountBy(curve, week),
      }),
    ),
  );
}

export function repeatedTable(curves: readonly MeanCountCurve[], plan: Plan): FindingTable {
  return {
    key: 'repeated',
    title: 'Repeated relapses: mean number a foot since first fitting',
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'relapses', label: 'Relapses', kind: 'count' },
      ...weeksOf(plan).map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: 'a foot',
        kind: 'number' as const,
      })),
    ],
    rows: curves.map(curve => ({
      group: curve.group,
      feet: curve.n,
      relapses: curve.events,
      ...Object.fromEntries(
        weeksOf(plan).map(week => {
          const value = meanCountBy(curve, week);
          return [`week${week}`, 'state' in value ? value.state : value];
        }),
      ),
    })),
    notes: ['All feet count from first fitting, also those without a step-down.'],
  };
}

function weeksOf(plan: Plan): readonly number[] {
  return [...new Set([...plan.occupancy.returnWeeks, plan.figures.lastWeek])];
}
