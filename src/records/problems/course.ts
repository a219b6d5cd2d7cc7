import { isoDate } from '../calendar-date.ts';
import type { Problem } from '../records.ts';
import { problem } from './problem.ts';

// Problems of a row beside the course of its episode.

export function beforeBirth(file: string, line: number, field: string, date: number): Problem {
  return problem(
    'before-birth',
    'refused',
    { file, line, field, value: isoDate(date) },
    'is before the birth of the infant',
    'a date from the day of birth',
  );
}

export function beforeFirstFitting(
  file: string,
  line: number,
  field: string,
  date: number,
  start: number,
): Problem {
  return problem(
    'before-first-fitting',
    'refused',
    { file, line, field, value: isoDate(date) },
    'is before the first fitting',
    `a date from ${isoDate(start)}, the start_date of the episode`,
  );
}

export function visitBeforeFirstFitting(
  file: string,
  line: number,
  kind: string,
  date: number,
  start: number,
): Problem {
  return problem(
    'visit-before-first-fitting',
    'warning',
    { file, line, field: 'kind', value: kind },
    `is dated ${isoDate(date)}, before the first fitting`,
    `baseline or unscheduled before ${isoDate(start)}, the start_date of the episode`,
  );
}

export function visitAfterEnd(file: string, line: number, kind: string, date: number, end: number): Problem {
  return problem(
    'visit-after-end',
    'warning',
    { file, line, field: 'kind', value: kind },
    `is dated ${isoDate(date)}, after the end of therapy`,
    `discharge, follow-up or unscheduled after ${isoDate(end)}, the end_date of the episode`,
  );
}

export function overlappingPhases(
  file: string,
  line: number,
  start: number,
  otherLine: number,
  otherEnd: number,
): Problem {
  return problem(
    'overlapping-phases',
    'refused',
    { file, line, field: 'start_date', value: isoDate(start) },
    `is within the spell on line ${otherLine}, which ends on ${isoDate(otherEnd)}`,
    'spells that do not overlap',
  );
}

export function gapBetweenPhases(
  file: string,
  line: number,
  start: number,
  otherLine: number,
  otherEnd: number,
): Problem {
  const days = start - otherEnd - 1;
  return problem(
    'gap-between-phases',
    'warning',
    { file, line, field: 'start_date', value: isoDate(start) },
    `leaves a gap of ${days} ${days === 1 ? 'day' : 'days'} after the spell on line ${otherLine}`,
    `${isoDate(otherEnd + 1)}, the day after the spell before`,
  );
}

export function phaseWithoutEnd(file: string, line: number, nextLine: number, nextStart: number): Problem {
  return problem(
    'phase-without-end',
    'warning',
    { file, line, field: 'end_date' },
    `is blank although another spell follows (line ${nextLine})`,
    `${isoDate(nextStart - 1)}, the day before the next spell starts`,
  );
}

export function hoursNotInPlan(
  file: string,
  line: number,
  hours: number,
  planned: readonly number[],
): Problem {
  return problem(
    'hours-not-in-plan',
    'refused',
    { file, line, field: 'prescribed_hours', value: String(hours) },
    'is not a phase of the plan',
    planned.join(', '),
  );
}

export function stepSkipsPhase(
  file: string,
  line: number,
  before: number,
  after: number,
  skipped: readonly number[],
): Problem {
  return problem(
    'step-skips-a-phase',
    'warning',
    { file, line, field: 'prescribed_hours', value: String(after) },
    `follows ${before} and skips ${skipped.join(', ')}`,
    'a step down to the next phase of the plan',
  );
}
