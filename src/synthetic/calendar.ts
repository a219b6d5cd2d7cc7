// Calendar dates as whole days since 1970-01-01, by the proleptic Gregorian rules, without a clock or a time zone.

/** Day number of a calendar date. */
export function dayNumber(year: number, month: number, day: number): number {
  // Years counted from March, so that the leap day comes last.
  const y = month <= 2 ? year - 1 : year;
  const m = (month + 9) % 12;
  return (
    365 * y +
    Math.floor(y / 4) -
    Math.floor(y / 100) +
    Math.floor(y / 400) +
    Math.floor((153 * m + 2) / 5) +
    day -
    719469
  );
}

export interface CalendarDate {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

/** Calendar date of a day number. */
export function calendarDate(days: number): CalendarDate {
  const shifted = days + 719468;
  const era = Math.floor(shifted / 146097);
  const inEra = shifted - era * 146097;
  const yearInEra = Math.floor(
    (inEra - Math.floor(inEra / 1460) + Math.floor(inEra / 36524) - Math.floor(inEra / 146096)) / 365,
  );
  const inYear = inEra - (365 * yearInEra + Math.floor(yearInEra / 4) - Math.floor(yearInEra / 100));
  const m = Math.floor((5 * inYear + 2) / 153);
  const month = m < 10 ? m + 3 : m - 9;
  return {
    year: yearInEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: inYear - Math.floor((153 * m + 2) / 5) + 1,
  };
}

const pad = (n: number) => (n < 10 ? `0${n}` : String(n));

/** ISO 8601 text of a day number. */
export function isoDate(days: number): string {
  const { year, month, day } = calendarDate(days);
  return `${year}-${pad(month)}-${pad(day)}`;
}

/** Day number of ISO 8601 text; throws a RangeError on text that is no calendar date. */
export function fromIsoDate(text: string): number {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  const days = parts ? dayNumber(Number(parts[1]), Number(parts[2]), Number(parts[3])) : Number.NaN;
  if (!parts || isoDate(days) !== text) throw new RangeError(`${text} is not a calendar date (YYYY-MM-DD)`);
  return days;
}

/** Monday to Friday: Saturday moves to Friday, Sunday to Monday. */
export function workingDay(days: number): number {
  const weekday = (((days + 3) % 7) + 7) % 7;
  return weekday === 5 ? days - 1 : weekday === 6 ? days + 1 : days;
}

/** Calendar quarters since year 0. */
export function quarterOf(days: number): number {
  const { year, month } = calendarDate(days);
  return year * 4 + Math.floor((month - 1) / 3);
}
