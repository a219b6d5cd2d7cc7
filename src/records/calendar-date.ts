// Calendar dates of the proleptic Gregorian calendar as whole days since 1970-01-01, by arithmetic alone: no clock,
// no time zone. Years are reckoned from March, so that the leap day comes last, in eras of 400 years (146,097 days).

const DAYS_PER_ERA = 146_097;
/** Days from 0000-03-01, where the eras start, to 1970-01-01. */
const EPOCH = 719_468;
const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/**
 * Days since 1970-01-01 of an ISO 8601 calendar date written `YYYY-MM-DD` (years 0000 to 9999); undefined for any
 * other text and for days that are not in the calendar, such as 2024-02-30.
 */
export function daysFromIsoDate(text: string): number | undefined {
  if (text.length !== 10 || text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45) return undefined;
  const year = digits(text, 0, 4);
  const month = digits(text, 5, 7);
  const day = digits(text, 8, 10);
  if (year < 0 || month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return undefined;
  return daysFromCivil(year, month, day);
}

/**
 * The date `YYYY-MM-DD` of a whole number of days since 1970-01-01.
 *
 * @throws RangeError if the days are not whole or the year is not within 0000 to 9999
 */
export function isoDate(days: number): string {
  if (!Number.isInteger(days) || days < FIRST_DAY || days > LAST_DAY) {
    throw new RangeError(`${days} is not a whole number of days within the years 0000 to 9999`);
  }
  const shifted = days + EPOCH;
  const era = Math.floor(shifted / DAYS_PER_ERA);
  const dayOfEra = shifted - era * DAYS_PER_ERA;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - yearDays(yearOfEra);
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - monthDays(marchMonth) + 1;
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  const year = era * 400 + yearOfEra + (month <= 2 ? 1 : 0);
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(day, 2)}`;
}

const FIRST_DAY = daysFromCivil(0, 1, 1);
const LAST_DAY = daysFromCivil(9999, 12, 31);

function daysFromCivil(year: number, month: number, day: number): number {
  const marchYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(marchYear / 400);
  const dayOfYear = monthDays(month > 2 ? month - 3 : month + 9) + day - 1;
  return era * DAYS_PER_ERA + yearDays(marchYear - era * 400) + dayOfYear - EPOCH;
}

/** Days before a year of the era. */
function yearDays(yearOfEra: number): number {
  return yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100);
}

/** Days of the year before a month, March being month 0. */
function monthDays(marchMonth: number): number {
  return Math.floor((153 * marchMonth + 2) / 5);
}

function daysInMonth(year: number, month: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return month === 2 && leap ? 29 : (MONTH_LENGTHS[month - 1] ?? 0);
}

/** The number written by the digits from `start` up to `end`; negative if any of them is no digit. */
function digits(text: string, start: number, end: number): number {
  let value = 0;
  for (let i = start; i < end; i++) {
    const digit = text.charCodeAt(i) - 48;
    if (digit < 0 || digit > 9) return -1;
    value = value * 10 + digit;
  }
  return value;
}

function padded(value: number, width: number): string {
  return String(value).padStart(width, '0');
}
