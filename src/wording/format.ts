import { type Count, shortCount } from './hidden-count.ts';

// The one place where numbers become words: every figure, table and sentence of a report is written by these functions.

/** A narrow no-break space, between a number and its percent sign and between groups of thousands. */
export const THIN_SPACE = '\u202F';
export const NO_BREAK_SPACE = '\u00A0';
export const MINUS = '\u2212';
export const EN_DASH = '\u2013';
/** Stands in a table where there is nothing to say. */
export const NOTHING = EN_DASH;

/** What kind of number it is, which settles its decimals. */
export type NumberKind =
  | 'count'
  | 'proportion'
  | 'rate'
  | 'time'
  | 'ratio'
  | 'difference'
  | 'correlation'
  | 'number';

/** An estimate with its limits; a limit is absent where it is not available. */
export interface Interval {
  readonly estimate: number;
  readonly lower?: number;
  readonly upper?: number;
}

/**
 * A number with a fixed count of decimals, a true minus sign, thin spaces between thousands from 10 000 on, and no
 * negative zero.
 *
 * @throws RangeError for what is not finite: a result that does not exist has a name, not a number
 */
export function formatDecimal(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`${String(value)} is no number that a report can print`);
  const [whole = '', fraction] = Math.abs(value).toFixed(decimals).split('.');
  const grouped = whole.length > 4 ? whole.replace(/(?<=\d)(?=(?:\d{3})+$)/g, THIN_SPACE) : whole;
  const digits = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return value < 0 && /[1-9]/.test(digits) ? `${MINUS}${digits}` : digits;
}

/** A whole number of feet, infants, rows, or the name of what stands in its place. */
export function formatCount(value: Count): string {
  return typeof value === 'string' ? value : formatDecimal(value, 0);
}

/** As `formatCount`, with the short mark of a hidden count, for a figure. */
export function formatCountInFigure(value: Count): string {
  return typeof value === 'string' ? shortCount(value) : formatDecimal(value, 0);
}

/**
 * A fraction as a percentage without its sign: whole, or with one decimal where `n` is 1000 or more. A fraction that
 * is not 0 is never printed as 0, nor one short of 1 as 100.
 */
export function formatPercentNumber(fraction: number, n?: number): string {
  const decimals = n !== undefined && n >= 1000 ? 1 : 0;
  const smallest = decimals === 1 ? 0.001 : 0.01;
  if (fraction > 0 && fraction < smallest / 2)
    return `<${THIN_SPACE}${formatDecimal(smallest * 100, decimals)}`;
  if (fraction < 1 && fraction > 1 - smallest / 2) {
    return `>${THIN_SPACE}${formatDecimal(100 - smallest * 100, decimals)}`;
  }
  return formatDecimal(fraction * 100, decimals);
}

/** A fraction as a percentage with its sign. */
export function formatPercent(fraction: number, n?: number): string {
  return `${formatPercentNumber(fraction, n)}${THIN_SPACE}%`;
}

/** A count with its share of `n`, reckoned from the two counts: `12/40 (30 %)`. */
export function formatShare(count: number, n: number): string {
  const counts = `${formatCount(count)}/${formatCount(n)}`;
  return n > 0 ? `${counts} (${formatPercent(count / n, n)})` : counts;
}

/**
 * A number by its kind: counts whole; proportions as percentages (the sign left to the column head or the caller);
 * times with one decimal; ratios, correlations and differences with two; rates with two decimals below 10, else one.
 */
export function formatNumber(value: number, kind: NumberKind): string {
  if (kind === 'proportion') return formatPercentNumber(value);
  return formatDecimal(value, decimalsOf(value, kind));
}

function decimalsOf(value: number, kind: Exclude<NumberKind, 'proportion'>): number {
  if (kind === 'count') return 0;
  if (kind === 'time') return 1;
  if (kind === 'rate') return Math.abs(value) < 10 ? 2 : 1;
  if (kind === 'number') return Number.isInteger(value) ? 0 : 2;
  return 2;
}

/**
 * Estimate (lower to upper). A limit that is not available is named: `not reached` above, `not known` below. With no
 * limit at all the estimate stands alone.
 */
export function formatInterval(value: Interval, kind: NumberKind): string {
  const estimate = formatNumber(value.estimate, kind);
  if (value.lower === undefined && value.upper === undefined) return estimate;
  const lower = value.lower === undefined ? 'not known' : formatNumber(value.lower, kind);
  const upper = value.upper === undefined ? 'not reached' : formatNumber(value.upper, kind);
  return `${estimate} (${lower} to ${upper})`;
}

/** As `formatInterval`, of fractions as percentages with the decimals that go with `n`. */
export function formatPercentInterval(value: Interval, n: number): string {
  const estimate = formatPercentNumber(value.estimate, n);
  if (value.lower === undefined && value.upper === undefined) return estimate;
  const lower = value.lower === undefined ? 'not known' : formatPercentNumber(value.lower, n);
  const upper = value.upper === undefined ? 'not reached' : formatPercentNumber(value.upper, n);
  return `${estimate} (${lower} to ${upper})`;
}

/**
 * A p-value: two digits, three below .01, `< .001` below that and `> .99` above .99; no zero before the point, since
 * it cannot pass 1. `P` stands before it in a sentence, not in a column headed P.
 */
export function formatPValue(p: number): string {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`${String(p)} is no p-value; 0 to 1 is allowed`);
  if (p < 0.001) return `<${THIN_SPACE}.001`;
  if (p > 0.99) return `>${THIN_SPACE}.99`;
  return p.toFixed(p < 0.01 ? 3 : 2).slice(1);
}

/** `P = .03`, `P < .001`: for a sentence. */
export function formatPValueSentence(p: number): string {
  const value = formatPValue(p);
  return value.startsWith('.')
    ? `P${NO_BREAK_SPACE}=${NO_BREAK_SPACE}${value}`
    : `P${NO_BREAK_SPACE}${value}`;
}

/** A time with its unit: `9.1 weeks`. */
export function formatTime(value: number, unit: string): string {
  return `${formatDecimal(value, 1)}${NO_BREAK_SPACE}${unit}`;
}

/** A mark on an axis: no needless decimals. */
export function formatTick(value: number): string {
  return formatDecimal(value, Number.isInteger(value) ? 0 : 1);
}

/** The confidence level in words: `95 %`. */
export function formatLevel(level: number): string {
  const percent = Number((level * 100).toFixed(4));
  return `${formatDecimal(percent, Number.isInteger(percent) ? 0 : 1)}${THIN_SPACE}%`;
}

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** A calendar date, given as days since 1970-01-01, as `3 July 2026`. No clock and no time zone takes part. */
export function formatDate(daysSince1970: number): string {
  const [year, month, day] = civilDate(daysSince1970);
  return `${day}${NO_BREAK_SPACE}${MONTHS[month - 1] ?? ''} ${year}`;
}

/** As `formatDate`, in the form 2026-07-03. */
export function isoDate(daysSince1970: number): string {
  const [year, month, day] = civilDate(daysSince1970);
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

/** Year, month and day of the proleptic Gregorian calendar, counted in years that begin in March. */
function civilDate(daysSince1970: number): readonly [number, number, number] {
  const days = Math.floor(daysSince1970) + 719468;
  const era = Math.floor(days / 146097);
  const dayOfEra = days - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const fromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * fromMarch + 2) / 5) + 1;
  const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
  return [yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day];
}

/** Words in a row with commas and a last `and`. */
export function listInWords(words: readonly string[]): string {
  if (words.length <= 1) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1] ?? ''}`;
}
