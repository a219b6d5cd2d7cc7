import type { Plan } from '../../plan/plan.ts';
import {
  beforeFirstFitting,
  gapBetweenPhases,
  hoursNotInPlan,
  overlappingPhases,
  phaseWithoutEnd,
  stepSkipsPhase,
} from '../problems/course.ts';
import { endBeforeStart } from '../problems/rows.ts';
import type { Checking } from './checking.ts';
import { column, isRefused, lineOf, refuse, valueAt } from './checking.ts';
import type { EpisodeIndex } from './episode-index.ts';
import { forEachLinkedRow } from './episode-index.ts';
import { forEachRun, runsBy } from './groups.ts';
import { checkKeys } from './keys.ts';

/** Checks the spells of prescribed wear one by one, then those of each episode in their order. */
export function checkPhases(checking: Checking, episodes: EpisodeIndex, plan: Plan): void {
  const { file } = checking.data.table;
  const starts = column(checking, 'start_date');
  const ends = column(checking, 'end_date');
  const hours = column(checking, 'prescribed_hours');
  const planned = [...plan.phases.hours].sort((a, b) => b - a);
  forEachLinkedRow(checking, episodes, (row, course) => {
    const line = lineOf(checking, row);
    const start = starts[row] ?? 0;
    const end = valueAt(ends, row);
    if (!planned.includes(hours[row] ?? 0)) {
      refuse(checking, row, hoursNotInPlan(file, line, hours[row] ?? 0, planned));
    }
    if (end !== undefined && end < start) refuse(checking, row, endBeforeStart(file, line, end, start));
    if (start < course.start) {
      refuse(checking, row, beforeFirstFitting(file, line, 'start_date', start, course.start));
    }
  });
  checkKeys(checking);
  forEachRun(runsBy(checking, 'episode_id', 'start_date'), rows => checkSpells(checking, rows, planned));
}

function checkSpells(checking: Checking, rows: Int32Array, planned: readonly number[]): void {
  const { file } = checking.data.table;
  const starts = column(checking, 'start_date');
  const ends = column(checking, 'end_date');
  const hours = column(checking, 'prescribed_hours');
  let before: number | undefined;
  for (const row of rows) {
    const line = lineOf(checking, row);
    const start = starts[row] ?? 0;
    if (before !== undefined) {
      const lineBefore = lineOf(checking, before);
      const endBefore = valueAt(ends, before);
      if (endBefore === undefined) {
        checking.problems.add(phaseWithoutEnd(file, lineBefore, line, start));
      } else if (endBefore >= start) {
        refuse(checking, row, overlappingPhases(file, line, start, lineBefore, endBefore));
      } else if (endBefore + 1 < start) {
        checking.problems.add(gapBetweenPhases(file, line, start, lineBefore, endBefore));
      }
      if (isRefused(checking, row)) continue;
      const from = hours[before] ?? 0;
      const to = hours[row] ?? 0;
      const skipped = planned.filter(step => step < from && step > to);
      if (skipped.length > 0) checking.problems.add(stepSkipsPhase(file, line, from, to, skipped));
    }
    before = row;
  }
}
