import { BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { type Risk, riskBy } from '../relapse/risk.ts';
import { type CausedFollowUp, type IncidenceCurve, incidenceOfEvent } from '../tools/curves.ts';
import { byGroup } from '../tools/people.ts';
import { FINISHED, LEFT, stateSpells } from './state-spells.ts';

/** Feet of one group and when they first went back to full time. Causes: 1 back, 2 finished, 3 left. */
export interface BackToFullTime {
  readonly group: string;
  readonly items: readonly CausedFollowUp[];
  readonly incidence: IncidenceCurve;
  readonly risks: readonly { readonly week: number; readonly risk: Risk }[];
}

/** The chance of having gone back to full time, for all feet and by band. */
export function backToFullTime(feet: readonly Foot[], plan: Plan): readonly BackToFullTime[] {
  if (feet.length === 0) return [];
  const rows = feet.map(foot => ({ band: foot.band, followUp: firstReturn(foot, plan) }));
  return [{ group: 'all', items: rows }, ...byGroup(rows, BANDS, row => row.band)].map(part => {
    const items = part.items.map(row => row.followUp);
    const incidence = incidenceOfEvent(items, plan);
    return {
      group: part.group,
      items,
      incidence,
      risks: plan.occupancy.returnWeeks.map(week => ({ week, risk: riskBy(items, incidence, week, plan) })),
    };
  });
}

/** A return on the last day of therapy comes before the end of that day. */
function firstReturn(foot: Foot, plan: Plan): CausedFollowUp {
  const common = { episode: foot.episode, infant: foot.infant };
  for (const [place, spell] of foot.spells.entries()) {
    const before = foot.spells[place - 1];
    if (before === undefined || spell.prescribedHours !== plan.adherence.fullTimeHours) continue;
    if (before.prescribedHours < spell.prescribedHours) return { ...common, day: spell.startDay, cause: 1 };
  }
  const end = stateSpells(foot, Infinity).at(-1)?.to;
  return { ...common, day: foot.lastDay, cause: end === FINISHED ? 2 : end === LEFT ? 3 : 0 };
}
