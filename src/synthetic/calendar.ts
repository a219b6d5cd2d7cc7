import { daysFromIsoDate, isoDate } from '../records/calendar-date.ts';

export { isoDate };

/** Day number of an ISO 8601 date; throws a RangeError on text that is no calendar date. */
export function fromIsoDate(text: string): number {
  const days = daysFromIsoDate(text);
  if (days === undefined) throw new RangeError(`${text} is not a calendar date (YYYY-MM-DD)`);
  return days;
}

/** Monday to Friday: Saturday moves to Friday, Sunday to Monday. */
export function workingDay(days: number): number {
  // 1970-01-01 was a Thursday; Monday is 0.
  const weekday = (((days + 3) % 7) + 7) % 7;
  return weekday === 5 ? days - 1 : weekday === 6 ? days + 1 : days;
}

/** Calendar quarters since the first of year 0. */
export function quarterOf(days: number): number {
  const text = isoDate(days);
  return Number(text.slice(0, 4)) * 4 + Math.floor((Number(text.slice(5, 7)) - 1) / 3);
}

/** First day of the quarter after the one a day lies in. */
export function nextQuarterStart(days: number): number {
  const next = quarterOf(days) + 1;
  const year = String(Math.floor(next / 4)).padStart(4, '0');
  const month = String((next % 4) * 3 + 1).padStart(2, '0');
  return fromIsoDate(`${year}-${month}-01`);
}
