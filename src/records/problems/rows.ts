import { isoDate } from '../calendar-date.ts';
import type { Problem } from '../records.ts';
import { HIDDEN, problem, shownCode } from './problem.ts';

// Problems of a row as a whole, and of a row beside the others of its table or its episode.

export function ageAndBirthDateMissing(file: string, line: number): Problem {
  return problem(
    'age-and-birth-date-missing',
    'refused',
    { file, line, field: 'age_at_start_days' },
    'and birth_date are both blank',
    'one of the two filled in',
  );
}

export function ageDisagrees(file: string, line: number, age: number): Problem {
  return problem(
    'age-disagrees-with-birth-date',
    'refused',
    { file, line, field: 'age_at_start_days', value: String(age) },
    'does not agree with birth_date and start_date',
    'the days from birth to first fitting, or a blank in one of the two',
  );
}

export function ageOutOfRange(file: string, line: number): Problem {
  return problem(
    'age-out-of-range',
    'refused',
    { file, line, field: 'birth_date', value: HIDDEN },
    'gives an age at first fitting that is out of range',
    'a birth 0 to 1500 days before start_date',
  );
}

export function endBeforeStart(file: string, line: number, end: number, start: number): Problem {
  return problem(
    'end-before-start',
    'refused',
    { file, line, field: 'end_date', value: isoDate(end) },
    'is before the start',
    `a date from ${isoDate(start)}, the start_date of the row`,
  );
}

export function endWithoutReason(file: string, line: number, end: number, reasons: string): Problem {
  return problem(
    'end-without-reason',
    'refused',
    { file, line, field: 'end_reason' },
    `is blank although end_date is ${isoDate(end)}`,
    reasons,
  );
}

export function reasonWithoutEnd(file: string, line: number, reason: string): Problem {
  return problem(
    'reason-without-end',
    'refused',
    { file, line, field: 'end_date' },
    `is blank although end_reason is "${reason}"`,
    'the last day of therapy, or a blank end_reason',
  );
}

export function reviewBeforeEvent(file: string, line: number, review: number, event: number): Problem {
  return problem(
    'review-before-event',
    'refused',
    { file, line, field: 'review_date', value: isoDate(review) },
    'is before the event',
    `a date from ${isoDate(event)}, the date of the event`,
  );
}

export function referralAfterStart(file: string, line: number, referral: number, start: number): Problem {
  return problem(
    'referral-after-first-fitting',
    'warning',
    { file, line, field: 'referral_date', value: isoDate(referral) },
    'is after the first fitting',
    `a date up to ${isoDate(start)}, the start_date of the episode`,
  );
}

export function duplicateKey(file: string, line: number, key: readonly string[], firstLine: number): Problem {
  return problem(
    'duplicate-key',
    'refused',
    { file, line, field: key.join(' + ') },
    `${key.length === 1 ? 'is' : 'are'} the same as on line ${firstLine}`,
    'one row for each',
  );
}

export function unknownEpisode(
  file: string,
  line: number,
  episode: string,
  refusedLine: number | undefined,
): Problem {
  return problem(
    'unknown-episode',
    'refused',
    { file, line, field: 'episode_id', value: shownCode(episode) },
    refusedLine === undefined
      ? 'is not in episodes.csv'
      : `belongs to an episode that was itself refused (episodes.csv, line ${refusedLine})`,
    'an episode_id of an accepted row of episodes.csv',
  );
}

export function overlappingEpisodes(file: string, line: number, start: number, otherLine: number): Problem {
  return problem(
    'overlapping-episodes',
    'refused',
    { file, line, field: 'start_date', value: isoDate(start) },
    `is before the end of the other episode of the same foot (line ${otherLine})`,
    'one episode of a foot at a time',
  );
}
