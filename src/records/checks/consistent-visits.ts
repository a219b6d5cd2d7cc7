import type { Plan } from '../../plan/plan.ts';
import { bisectorJump, checkupInterval, correctionBeforeFirstCheckup } from '../problems/consistency.ts';
import type { Checking } from './checking.ts';
import { column, lineOf, valueAt, wordAt } from './checking.ts';
import type { EpisodeCourse, EpisodeIndex } from './episode-index.ts';
import { forEachRun, runsBy } from './groups.ts';

/** The examinations of each foot beside one another, in the order of their days. */
export function checkVisits(checking: Checking, episodes: EpisodeIndex, plan: Plan): void {
  const codes = column(checking, 'episode_id');
  forEachRun(runsBy(checking, 'episode_id', 'date'), rows => {
    const course = episodes.course(codes[rows[0] ?? -1] ?? -1);
    if (course === undefined) return;
    checkJumps(checking, rows, plan);
    checkEarlyCorrection(checking, rows, course, plan);
    checkIntervals(checking, rows, course, plan);
  });
}

/** Two assessors on one day may differ: that is agreement, not a jump. */
function checkJumps(checking: Checking, rows: Int32Array, { checks }: Plan): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  const positions = column(checking, 'bisector_position');
  let before: number | undefined;
  for (const row of rows) {
    const position = valueAt(positions, row);
    if (position === undefined) continue;
    if (before !== undefined) {
      const from = positions[before] ?? 0;
      const days = (dates[row] ?? 0) - (dates[before] ?? 0);
      if (days === 0) continue;
      const { positions: most, withinDays } = checks.bisectorJump;
      if (days <= withinDays && Math.abs(position - from) >= most) {
        checking.problems.add(
          bisectorJump(file, lineOf(checking, row), position, from, lineOf(checking, before), days, most),
        );
      }
    }
    before = row;
  }
}

/** A foot found corrected after the first fitting on a day before any row of kind checkup. */
function checkEarlyCorrection(
  checking: Checking,
  rows: Int32Array,
  { start }: EpisodeCourse,
  { correction }: Plan,
): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  const positions = column(checking, 'bisector_position');
  const flexible: readonly string[] = correction.flexibility;
  for (const row of rows) {
    const date = dates[row] ?? 0;
    const kind = wordAt(checking, 'kind', row);
    if (date <= start || kind === 'baseline') continue;
    if (kind === 'checkup') return;
    const position = valueAt(positions, row);
    if (position === undefined || position > correction.bisectorAtMost) continue;
    if (!flexible.includes(wordAt(checking, 'flexibility', row))) continue;
    // A checkup on the same day may stand further down.
    if (rows.some(other => dates[other] === date && wordAt(checking, 'kind', other) === 'checkup')) return;
    checking.problems.add(correctionBeforeFirstCheckup(file, lineOf(checking, row), date, start));
    return;
  }
}

function checkIntervals(
  checking: Checking,
  rows: Int32Array,
  { end }: EpisodeCourse,
  { checks }: Plan,
): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  const limits = checks.checkupInterval;
  let before: number | undefined;
  for (const row of rows) {
    const date = dates[row] ?? 0;
    if (wordAt(checking, 'kind', row) !== 'checkup' || (end !== undefined && date > end)) continue;
    if (before !== undefined) {
      const days = date - (dates[before] ?? 0);
      if (days > 0 && (days < limits.shortestDays || days > limits.longestDays)) {
        checking.problems.add(
          checkupInterval(file, lineOf(checking, row), date, lineOf(checking, before), days, limits),
        );
      }
    }
    before = row;
  }
}
