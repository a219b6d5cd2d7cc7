import { daysFromIsoDate, isoDate } from '../calendar-date.ts';
import type { DateOrder } from './mapping.ts';

const PARTS = /^(\d{1,4})([./\- ])\s?(\d{1,2})\2\s?(\d{1,4})(?:[T ,]\s?\d{1,2}:\d{2}.*)?$/;
const SHORT_YEAR = 2;
const CENTURY_TURNS = 90;

/**
 * A date written in a known order as `YYYY-MM-DD`, or undefined. Year, month and day are parted by dots, slashes,
 * hyphens or blanks; a time of day that follows is left off. A year of two digits is the one from 1990 to 2089.
 */
export function isoDateFrom(text: string, order: DateOrder): string | undefined {
  const match = PARTS.exec(text);
  if (match === null) return undefined;
  const parts = [match[1] ?? '', match[3] ?? '', match[4] ?? ''] as const;
  const [year, month, day] =
    order === 'year-month-day'
      ? parts
      : order === 'day-month-year'
        ? [parts[2], parts[1], parts[0]]
        : [parts[2], parts[0], parts[1]];
  if (month.length > 2 || day.length > 2) return undefined;
  const iso = `${fullYear(year)}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return daysFromIsoDate(iso) === undefined ? undefined : iso;
}

function fullYear(year: string): string {
  if (year.length !== SHORT_YEAR) return year;
  return Number(year) >= CENTURY_TURNS ? `19${year}` : `20${year}`;
}

const DAYS = /^(-?\d{1,5})(?:\s*([+-])\s*(\d{1,5}))?$/;

/** A date some days later, or undefined; the days are a whole number, or two with a plus or minus between. */
export function plusDays(iso: string, days: string): string | undefined {
  const start = daysFromIsoDate(iso);
  const match = DAYS.exec(days);
  if (start === undefined || match === null) return undefined;
  const [, first = '', sign, second = '0'] = match;
  return isoDate(start + Number(first) + (sign === '-' ? -1 : 1) * Number(second));
}
