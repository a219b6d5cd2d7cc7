import { daysFromIsoDate, isoDate } from '../../records/calendar-date.ts';

/** Three months of a calendar or financial year. Days are since 1970-01-01, both included. */
export interface Quarter {
  /** Counts quarters; the next quarter has the next number. */
  readonly ordinal: number;
  /** `2026-Q3`, or `2026-27 Q1` where the year does not start in January. */
  readonly name: string;
  readonly firstDay: number;
  readonly lastDay: number;
}

const MONTHS_IN_QUARTER = 3;
const QUARTERS_IN_YEAR = 4;
const MONTHS_IN_YEAR = 12;

/**
 * The quarter with a number.
 *
 * @param firstMonth month (1 to 12) in which the first quarter of the year starts
 */
export function quarterAt(ordinal: number, firstMonth: number): Quarter {
  const year = Math.floor(ordinal / QUARTERS_IN_YEAR);
  const number = ordinal - year * QUARTERS_IN_YEAR + 1;
  return {
    ordinal,
    name: `${yearName(year, firstMonth)}Q${number}`,
    firstDay: firstDayOf(ordinal, firstMonth),
    lastDay: firstDayOf(ordinal + 1, firstMonth) - 1,
  };
}

/** The number of the quarter that a day (since 1970-01-01) falls in. */
export function quarterOrdinal(day: number, firstMonth: number): number {
  const [year = 0, month = 1] = isoDate(day).split('-').map(Number);
  return Math.floor((year * MONTHS_IN_YEAR + month - firstMonth) / MONTHS_IN_QUARTER);
}

export function quarterOf(day: number, firstMonth: number): Quarter {
  return quarterAt(quarterOrdinal(day, firstMonth), firstMonth);
}

/**
 * The quarter that a reader names: `previous` is the last one that was over at the data cut-off, the cut-off being its
 * last day included; else a name such as `2026-Q3`, or `2026-27 Q1` (also `2026-27-Q1`) in a year that does not start in
 * January.
 *
 * @throws RangeError for any other text, and for a quarter that starts after the cut-off
 */
export function quarterNamed(text: string, cutOff: number, firstMonth: number): Quarter {
  if (text.trim().toLowerCase() === 'previous') return previousQuarter(cutOff, firstMonth);
  const last = previousQuarter(cutOff, firstMonth).name;
  const pattern = firstMonth === 1 ? /^(\d{4})[- ]?Q([1-4])$/i : /^(\d{4})[-/](\d{2})[- ]?Q([1-4])$/i;
  const found = pattern.exec(text.trim());
  const year = Number(found?.[1]);
  const number = Number(found?.at(-1));
  const spans = firstMonth === 1 || Number(found?.[2]) === (year + 1) % 100;
  if (found === null || !spans) {
    throw new RangeError(
      `quarter ${JSON.stringify(text)} cannot be read; allowed: previous, or a name such as ${last}`,
    );
  }
  const quarter = quarterAt(year * QUARTERS_IN_YEAR + number - 1, firstMonth);
  if (quarter.firstDay > cutOff) {
    throw new RangeError(
      `quarter ${quarter.name} starts on ${isoDate(quarter.firstDay)}, after the data cut-off ${isoDate(cutOff)}; the last full one is ${last}`,
    );
  }
  return quarter;
}

function previousQuarter(cutOff: number, firstMonth: number): Quarter {
  const current = quarterOf(cutOff, firstMonth);
  return current.lastDay === cutOff ? current : quarterAt(current.ordinal - 1, firstMonth);
}

function yearName(year: number, firstMonth: number): string {
  if (firstMonth === 1) return `${year}-`;
  return `${year}-${String((year + 1) % 100).padStart(2, '0')} `;
}

function firstDayOf(ordinal: number, firstMonth: number): number {
  const months = ordinal * MONTHS_IN_QUARTER + firstMonth - 1;
  const year = Math.floor(months / MONTHS_IN_YEAR);
  const month = months - year * MONTHS_IN_YEAR + 1;
  const text = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-01`;
  const day = daysFromIsoDate(text);
  if (day === undefined) throw new RangeError(`${text} is not within the years 0000 to 9999`);
  return day;
}
