import { allowedIn } from '../dictionary.ts';
import { beforeBirth } from '../problems/course.ts';
import {
  ageAndBirthDateMissing,
  ageDisagrees,
  ageOutOfRange,
  endBeforeStart,
  endWithoutReason,
  overlappingEpisodes,
  reasonWithoutEnd,
  referralAfterStart,
} from '../problems/rows.ts';
import { MISSING } from '../reading/values.ts';
import type { Checking } from './checking.ts';
import { acceptedRows, column, lineOf, refuse, valueAt, wordAt } from './checking.ts';
import { forEachRun, runsBy } from './groups.ts';
import { checkKeys } from './keys.ts';

/** Checks episodes row by row and beside one another, and works out the age at start where it is not given. */
export function checkEpisodes(checking: Checking): void {
  checkAges(checking);
  checkDates(checking);
  checkKeys(checking);
  checkOverlaps(checking);
}

function checkAges(checking: Checking): void {
  const { file, fields } = checking.data.table;
  const ages = column(checking, 'age_at_start_days');
  const births = column(checking, 'birth_date');
  const starts = column(checking, 'start_date');
  const limits = fields.find(field => field.name === 'age_at_start_days');
  const oldest = limits?.type === 'integer' ? limits.maximum : Number.POSITIVE_INFINITY;
  for (const row of acceptedRows(checking)) {
    const line = lineOf(checking, row);
    const age = valueAt(ages, row);
    const birth = valueAt(births, row);
    if (birth === undefined) {
      if (age === undefined) refuse(checking, row, ageAndBirthDateMissing(file, line));
      continue;
    }
    const reckoned = (starts[row] ?? 0) - birth;
    if (reckoned < 0 || reckoned > oldest) refuse(checking, row, ageOutOfRange(file, line));
    else if (age !== undefined && age !== reckoned) refuse(checking, row, ageDisagrees(file, line, age));
    else ages[row] = reckoned;
  }
  // From here on only the age is known.
  births.fill(MISSING);
}

function checkDates(checking: Checking): void {
  const { file, fields } = checking.data.table;
  const starts = column(checking, 'start_date');
  const ends = column(checking, 'end_date');
  const reasons = column(checking, 'end_reason');
  const referrals = column(checking, 'referral_date');
  const ages = column(checking, 'age_at_start_days');
  const reasonField = fields.find(field => field.name === 'end_reason');
  const allowedReasons = reasonField === undefined ? '' : allowedIn(reasonField);
  for (const row of acceptedRows(checking)) {
    const line = lineOf(checking, row);
    const start = starts[row] ?? 0;
    const end = valueAt(ends, row);
    const reason = valueAt(reasons, row);
    const referral = valueAt(referrals, row);
    if (end !== undefined && end < start) refuse(checking, row, endBeforeStart(file, line, end, start));
    if (end !== undefined && reason === undefined) {
      refuse(checking, row, endWithoutReason(file, line, end, allowedReasons));
    }
    if (end === undefined && reason !== undefined) {
      refuse(checking, row, reasonWithoutEnd(file, line, wordAt(checking, 'end_reason', row)));
    }
    if (referral !== undefined && referral < start - (ages[row] ?? 0)) {
      refuse(checking, row, beforeBirth(file, line, 'referral_date', referral));
    }
    if (referral !== undefined && referral > start) {
      checking.problems.add(referralAfterStart(file, line, referral, start));
    }
  }
}

/** Two episodes of one foot may touch on a day but not overlap; the one that starts later is refused. */
function checkOverlaps(checking: Checking): void {
  const starts = column(checking, 'start_date');
  const ends = column(checking, 'end_date');
  const feet = column(checking, 'foot');
  forEachRun(runsBy(checking, 'infant_id', 'foot', 'start_date'), rows => {
    let before: number | undefined;
    for (const row of rows) {
      if (before === undefined || feet[before] !== feet[row]) {
        before = row;
        continue;
      }
      const end = ends[before] === MISSING ? Number.POSITIVE_INFINITY : (ends[before] ?? 0);
      const start = starts[row] ?? 0;
      if (start >= end) before = row;
      else {
        const { file } = checking.data.table;
        refuse(
          checking,
          row,
          overlappingEpisodes(file, lineOf(checking, row), start, lineOf(checking, before)),
        );
      }
    }
  });
}
