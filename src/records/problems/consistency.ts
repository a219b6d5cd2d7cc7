import { isoDate } from '../calendar-date.ts';
import type { Problem } from '../records.ts';
import { problem } from './problem.ts';

// What a clinician would look at twice. Nothing is refused for it.

export function bisectorJump(
  file: string,
  line: number,
  to: number,
  from: number,
  otherLine: number,
  days: number,
  most: number,
): Problem {
  return problem(
    'bisector-jump',
    'warning',
    { file, line, field: 'bisector_position', value: String(to) },
    `is ${Math.abs(to - from)} positions from ${from} on line ${otherLine}, ${spoken(days, 'day')} before`,
    `a change of less than ${spoken(most, 'position')} in so short a time`,
  );
}

export function correctionBeforeFirstCheckup(
  file: string,
  line: number,
  date: number,
  start: number,
): Problem {
  return problem(
    'correction-before-first-checkup',
    'warning',
    { file, line, field: 'date', value: isoDate(date) },
    `finds the foot corrected ${spoken(date - start, 'day')} after the first fitting, before any checkup`,
    'a checkup on or before the day of correction',
  );
}

export function wearAfterEnd(file: string, line: number, date: number, end: number): Problem {
  return problem(
    'wear-after-end',
    'warning',
    { file, line, field: 'date', value: isoDate(date) },
    'is after the end of therapy',
    `a date up to ${isoDate(end)}, the end_date of the episode`,
  );
}

export function wearFarAbovePrescribed(
  file: string,
  line: number,
  hours: number,
  prescribed: number,
  most: number,
): Problem {
  return problem(
    'wear-far-above-prescribed',
    'warning',
    { file, line, field: 'hours_worn', value: String(hours) },
    `is far above the ${prescribed} hours prescribed for the day`,
    `up to ${Math.min(24, prescribed + most)} hours`,
  );
}

export function sameInBothFeet(file: string, line: number, otherLine: number, rows: number): Problem {
  return problem(
    'same-in-both-feet',
    'warning',
    { file, line },
    `this row and those that follow for the foot are the same as for the other foot of the infant from line ${otherLine} on (${spoken(rows, 'row')})`,
    'rows of its own for each foot',
  );
}

export function checkupInterval(
  file: string,
  line: number,
  date: number,
  otherLine: number,
  days: number,
  { shortestDays, longestDays }: { readonly shortestDays: number; readonly longestDays: number },
): Problem {
  return problem(
    'checkup-interval',
    'warning',
    { file, line, field: 'date', value: isoDate(date) },
    `is ${spoken(days, 'day')} after the checkup on line ${otherLine}`,
    `${shortestDays} to ${longestDays} days between checkups`,
  );
}

export function digitPreference(
  file: string,
  source: string,
  whole: number,
  rows: number,
  expectedShare: number,
): Problem {
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  return problem(
    'digit-preference',
    'warning',
    { file, field: 'hours_worn' },
    `of source ${source} is a whole number in ${whole} of ${rows} rows (${percent(whole / rows)}), where its steps would give ${percent(expectedShare)}`,
    'hours as they were, not rounded',
  );
}

function spoken(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
