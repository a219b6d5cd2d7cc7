import {
  beforeBirth,
  beforeFirstFitting,
  visitAfterEnd,
  visitBeforeFirstFitting,
} from '../problems/course.ts';
import { reviewBeforeEvent } from '../problems/rows.ts';
import type { Checking } from './checking.ts';
import { column, lineOf, refuse, valueAt, wordAt } from './checking.ts';
import type { EpisodeIndex } from './episode-index.ts';
import { forEachLinkedRow } from './episode-index.ts';
import { checkKeys } from './keys.ts';

const NOT_BEFORE_START = ['checkup', 'discharge', 'follow-up'];
const NOT_AFTER_END = ['baseline', 'checkup'];

export function checkAssessments(checking: Checking, episodes: EpisodeIndex): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  forEachLinkedRow(checking, episodes, (row, { birth, start, end }) => {
    const line = lineOf(checking, row);
    const date = dates[row] ?? 0;
    const kind = wordAt(checking, 'kind', row);
    if (date < birth) refuse(checking, row, beforeBirth(file, line, 'date', date));
    else if (date < start && NOT_BEFORE_START.includes(kind)) {
      checking.problems.add(visitBeforeFirstFitting(file, line, kind, date, start));
    } else if (end !== undefined && date > end && NOT_AFTER_END.includes(kind)) {
      checking.problems.add(visitAfterEnd(file, line, kind, date, end));
    }
  });
  checkKeys(checking);
}

export function checkWear(checking: Checking, episodes: EpisodeIndex): void {
  checkFromFirstFitting(checking, episodes);
  checkKeys(checking);
}

export function checkEvents(checking: Checking, episodes: EpisodeIndex): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  const reviews = column(checking, 'review_date');
  checkFromFirstFitting(checking, episodes, row => {
    const review = valueAt(reviews, row);
    const date = dates[row] ?? 0;
    if (review !== undefined && review < date) {
      refuse(checking, row, reviewBeforeEvent(file, lineOf(checking, row), review, date));
    }
  });
  checkKeys(checking);
}

/** Nothing can be worn, and no skin can suffer from it, before the brace was fitted. */
function checkFromFirstFitting(
  checking: Checking,
  episodes: EpisodeIndex,
  visit: (row: number) => void = () => {},
): void {
  const { file } = checking.data.table;
  const dates = column(checking, 'date');
  forEachLinkedRow(checking, episodes, (row, { start }) => {
    const date = dates[row] ?? 0;
    if (date < start) {
      refuse(checking, row, beforeFirstFitting(file, lineOf(checking, row), 'date', date, start));
    } else visit(row);
  });
}
