import type { Plan } from '../../plan/plan.ts';
import { wearAfterEnd, wearFarAbovePrescribed } from '../problems/consistency.ts';
import type { Checking } from './checking.ts';
import { acceptedRows, column, lineOf } from './checking.ts';
import type { EpisodeIndex } from './episode-index.ts';
import { runsBy } from './groups.ts';

/** The hours worn on each day beside the end of therapy and the hours prescribed. */
export function checkWornHours(wear: Checking, phases: Checking, episodes: EpisodeIndex, plan: Plan): void {
  const { file } = wear.data.table;
  const codes = column(wear, 'episode_id');
  const dates = column(wear, 'date');
  const hours = column(wear, 'hours_worn');
  const most = plan.checks.hoursOverPrescribed;
  const prescribedOn = prescribedHours(phases);
  for (const row of acceptedRows(wear)) {
    const code = codes[row] ?? -1;
    const date = dates[row] ?? 0;
    const end = episodes.course(code)?.end;
    if (end !== undefined && date > end) {
      wear.problems.add(wearAfterEnd(file, lineOf(wear, row), date, end));
      continue;
    }
    const prescribed = prescribedOn(code, date);
    const worn = hours[row] ?? 0;
    if (prescribed !== undefined && worn > prescribed + most) {
      wear.problems.add(wearFarAbovePrescribed(file, lineOf(wear, row), worn, prescribed, most));
    }
  }
}

/** The hours prescribed for an episode on a day: those of the spell with the latest start on or before it. */
function prescribedHours(phases: Checking): (code: number, date: number) => number | undefined {
  const { order, start } = runsBy(phases, 'episode_id', 'start_date');
  const starts = column(phases, 'start_date');
  const hours = column(phases, 'prescribed_hours');
  return (code, date) => {
    let inForce: number | undefined;
    // An episode has a handful of spells.
    for (let i = start[code] ?? 0; i < (start[code + 1] ?? 0); i++) {
      const row = order[i] as number;
      if ((starts[row] as number) > date) break;
      inForce = hours[row];
    }
    return inForce;
  };
}
