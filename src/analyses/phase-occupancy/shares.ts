import { BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { type StateOccupancy, stateOccupancy } from '../../statistics/multi-state/index.ts';
import type { OccupancyShares } from '../occupancy-shares.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { byGroup, countInfants } from '../tools/people.ts';
import { FINISHED, lastDayShown, LEFT, type StateSpell, stateSpells } from './state-spells.ts';

/** Mean weeks in one state up to the last week shown, or why they cannot be given. */
export type MeanWeeks =
  | { readonly estimate: number; readonly lower?: number; readonly upper?: number }
  | { readonly state: string };

/** The multi-state picture of one group of feet. */
export interface GroupOccupancy {
  readonly group: string;
  readonly feet: readonly Foot[];
  readonly shares: OccupancyShares;
  /** By state, in the order of `shares.states`. */
  readonly meanWeeks: readonly MeanWeeks[];
}

/** Occupancy of all feet, then by band. */
export function groupOccupancies(
  feet: readonly Foot[],
  states: readonly string[],
  plan: Plan,
): readonly GroupOccupancy[] {
  if (feet.length === 0) return [];
  return [{ group: 'all', items: feet }, ...byGroup(feet, BANDS, foot => foot.band)].map(part =>
    groupOccupancy(part.group, part.items, states, plan),
  );
}

function groupOccupancy(
  group: string,
  feet: readonly Foot[],
  states: readonly string[],
  plan: Plan,
): GroupOccupancy {
  const horizon = lastDayShown(plan);
  const rows = feet.flatMap((foot, place) =>
    stateSpells(foot, horizon).map(spell => ({ foot, place, spell })),
  );
  const occupancy = stateOccupancy(
    {
      subject: rows.map(row => row.place),
      start: rows.map(row => row.spell.start),
      stop: rows.map(row => row.spell.stop),
      from: rows.map(row => row.spell.from),
      to: rows.map(row => row.spell.to),
      cluster: rows.map(row => (plan.clustering.byInfant ? row.foot.infant : row.foot.episode)),
    },
    { states, horizon, level: plan.level },
  );
  return {
    group,
    feet,
    shares: sharesByWeek(
      group,
      feet,
      occupancy,
      rows.map(row => row.spell),
      states,
      plan,
    ),
    meanWeeks: states.map(state => meanWeeksIn(state, occupancy, feet, plan)),
  };
}

function sharesByWeek(
  group: string,
  feet: readonly Foot[],
  occupancy: StateOccupancy,
  spells: readonly StateSpell[],
  states: readonly string[],
  plan: Plan,
): OccupancyShares {
  const week = weeksKnown(occupancy, plan);
  const places = week.map(w => occupancy.time.findLastIndex(time => time <= w * DAYS_IN_WEEK));
  const read = <T>(table: Readonly<Record<string, readonly T[]>>, start: (state: string) => T): T[][] =>
    states.map(state => places.map(place => (place < 0 ? start(state) : ((table[state] ?? [])[place] as T))));
  const limited = !plan.clustering.byInfant || countInfants(feet) > 1;
  const limits = (table: Readonly<Record<string, readonly (number | undefined)[]>>) =>
    read(table, () => undefined).map(row => row.map(value => (limited ? value : undefined)));
  return {
    key: `occupancy.${group}`,
    group,
    states,
    week,
    share: read(occupancy.probability, state => occupancy.initial[state] ?? 0),
    standardError: read(occupancy.standardError, () => 0),
    lower: limits(occupancy.lower),
    upper: limits(occupancy.upper),
    inTherapy: week.map(
      w =>
        spells.filter(spell => spell.start < Math.max(1, w * DAYS_IN_WEEK) && spell.stop >= w * DAYS_IN_WEEK)
          .length,
    ),
    n: feet.length,
    infants: countInfants(feet),
  };
}

/** Weeks up to the plan's last, as far as some foot was followed in therapy or none is left in it. */
function weeksKnown(occupancy: StateOccupancy, plan: Plan): readonly number[] {
  const last = occupancy.time.at(-1) ?? 0;
  const all = Array.from({ length: plan.occupancy.weeks + 1 }, (_, week) => week);
  return everybodyEnded(occupancy) ? all : all.filter(week => week * DAYS_IN_WEEK <= last);
}

function everybodyEnded(occupancy: StateOccupancy): boolean {
  const ended = (occupancy.probability[FINISHED]?.at(-1) ?? 0) + (occupancy.probability[LEFT]?.at(-1) ?? 0);
  return ended > 1 - 1e-9;
}

function meanWeeksIn(state: string, occupancy: StateOccupancy, feet: readonly Foot[], plan: Plan): MeanWeeks {
  const last = occupancy.time.at(-1) ?? 0;
  if (last < lastDayShown(plan) && !everybodyEnded(occupancy)) return { state: 'not followed so long' };
  const mean = occupancy.meanTimeInState[state];
  if (mean === undefined) return { state: 'no data' };
  const estimate = mean.estimate / DAYS_IN_WEEK;
  if (mean.standardError === 0 || (plan.clustering.byInfant && countInfants(feet) < 2)) return { estimate };
  return {
    estimate,
    lower: Math.max(0, mean.lower / DAYS_IN_WEEK),
    upper: Math.min(plan.occupancy.weeks, mean.upper / DAYS_IN_WEEK),
  };
}
