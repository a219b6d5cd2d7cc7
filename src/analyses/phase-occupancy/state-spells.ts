import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';

/** A stay of one foot in one state; `to` is empty where it ends without a move. */
export interface StateSpell {
  readonly start: number;
  readonly stop: number;
  readonly from: string;
  readonly to: string;
}

export const FINISHED = 'finished';
export const LEFT = 'left';

/** The states in order: prescribed hours from the longest down, then the two ends. */
export function statesOf(feet: readonly Foot[], plan: Plan): readonly string[] {
  const hours = new Set(plan.phases.hours);
  for (const foot of feet) for (const spell of foot.spells) hours.add(spell.prescribedHours);
  return [...[...hours].sort((a, b) => b - a).map(hoursState), FINISHED, LEFT];
}

/** Why a foot cannot be placed in any state. */
export function reasonNoState(foot: Foot): string | undefined {
  if (foot.spells.length === 0) return 'no phase on record';
  return stateSpells(foot, Infinity).length === 0
    ? 'no day of therapy after the first phase began'
    : undefined;
}

/** Last day shown: the foot is followed no further. */
export function lastDayShown(plan: Plan): number {
  return plan.occupancy.weeks * DAYS_IN_WEEK;
}

/**
 * The states of one foot from its first spell to its end or a last day. A spell that starts on the last day of therapy
 * has no length: the foot goes from the phase before to its end.
 */
export function stateSpells(foot: Foot, lastDay: number): readonly StateSpell[] {
  const spells = foot.spells.filter(spell => spell.startDay < foot.lastDay);
  return spells.flatMap((spell, place): StateSpell[] => {
    if (spell.startDay >= lastDay) return [];
    const next = spells[place + 1];
    const stop = next?.startDay ?? foot.lastDay;
    const to = next === undefined ? endState(foot) : hoursState(next.prescribedHours);
    return [
      {
        start: spell.startDay,
        stop: Math.min(stop, lastDay),
        from: hoursState(spell.prescribedHours),
        to: stop > lastDay ? '' : to,
      },
    ];
  });
}

function hoursState(hours: number): string {
  return `${hours} hours`;
}

function endState(foot: Foot): string {
  if (foot.end === 'finished') return FINISHED;
  const left =
    foot.end === 'referred for casting' || foot.end === 'referred for surgery' || foot.end === 'withdrawn';
  return left ? LEFT : '';
}
