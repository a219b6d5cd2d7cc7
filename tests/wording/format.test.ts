import { describe, expect, it } from 'vitest';
import {
  EN_DASH,
  formatCount,
  formatDate,
  formatDecimal,
  formatInterval,
  formatLevel,
  formatNumber,
  formatPercent,
  formatPValue,
  formatPValueSentence,
  formatShare,
  formatTick,
  formatTime,
  isoDate,
  listInWords,
  MINUS,
  NO_BREAK_SPACE,
  NOTHING,
  THIN_SPACE,
} from '../../src/wording/format.ts';

const T = THIN_SPACE;
const N = NO_BREAK_SPACE;

describe('numbers in words', () => {
  it.each([
    [0, 1, '0.0'],
    [-0, 1, '0.0'],
    [-0.04, 1, '0.0'],
    [-0.05, 2, `${MINUS}0.05`],
    [-12.345, 1, `${MINUS}12.3`],
    [1455, 0, '1455'],
    [10000, 0, `10${T}000`],
    [-1234567.891, 2, `${MINUS}1${T}234${T}567.89`],
    [99999.96, 1, `100${T}000.0`],
  ])('%f with %i decimals is %s', (value, decimals, text) => {
    expect(formatDecimal(value, decimals)).toBe(text);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('refuses %f', value => {
    expect(() => formatDecimal(value, 1)).toThrow(RangeError);
  });

  it.each([
    [0, undefined, `0${T}%`],
    [1, undefined, `100${T}%`],
    [0.004, undefined, `<${T}1${T}%`],
    [0.005, undefined, `1${T}%`],
    [0.996, undefined, `>${T}99${T}%`],
    [21 / 57, 57, `37${T}%`],
    [44 / 379, 379, `12${T}%`],
    [0.1163, 1000, `11.6${T}%`],
    [0.0004, 5000, `<${T}0.1${T}%`],
    [0.9997, 5000, `>${T}99.9${T}%`],
  ])('the fraction %f of %s is %s', (fraction, n, text) => {
    expect(formatPercent(fraction, n)).toBe(text);
  });

  it('reckons a share from its two counts', () => {
    expect(formatShare(21, 57)).toBe(`21/57 (37${T}%)`);
    expect(formatShare(0, 0)).toBe('0/0');
  });

  it.each([
    [12, 'count', '12'],
    [0.305, 'proportion', '31'],
    [9.14, 'time', '9.1'],
    [1.104, 'rate', '1.10'],
    [10.26, 'rate', '10.3'],
    [2, 'ratio', '2.00'],
    [-0.256, 'difference', `${MINUS}0.26`],
    [0.5, 'correlation', '0.50'],
    [7, 'number', '7'],
    [7.5, 'number', '7.50'],
  ] as const)('%f as a %s is %s', (value, kind, text) => {
    expect(formatNumber(value, kind)).toBe(text);
  });

  it.each([
    [{ estimate: 9.1, lower: 7.94, upper: 10.3 }, 'time', '9.1 (7.9 to 10.3)'],
    [{ estimate: 9.1, lower: 7.94 }, 'time', '9.1 (7.9 to not reached)'],
    [{ estimate: 9.1, upper: 12 }, 'time', '9.1 (not known to 12.0)'],
    [{ estimate: 0.2 }, 'proportion', '20'],
    [{ estimate: -0.5, lower: -1, upper: 0 }, 'difference', `${MINUS}0.50 (${MINUS}1.00 to 0.00)`],
  ] as const)('the interval %o as a %s is %s', (value, kind, text) => {
    expect(formatInterval(value, kind)).toBe(text);
  });

  it.each([
    [0, `<${T}.001`],
    [0.00099, `<${T}.001`],
    [0.001, '.001'],
    [0.0049, '.005'],
    [0.00999, '.010'],
    [0.01, '.01'],
    [0.049, '.05'],
    [0.5, '.50'],
    [0.99, '.99'],
    [0.995, `>${T}.99`],
    [1, `>${T}.99`],
  ])('the p-value %f is %s', (p, text) => {
    expect(formatPValue(p)).toBe(text);
  });

  it('puts P before a p-value in a sentence', () => {
    expect(formatPValueSentence(0.03)).toBe(`P${N}=${N}.03`);
    expect(formatPValueSentence(0.0001)).toBe(`P${N}<${T}.001`);
  });

  it.each([-0.1, 1.1, Number.NaN])('refuses %f as a p-value', p => {
    expect(() => formatPValue(p)).toThrow(RangeError);
  });

  it('writes levels, ticks, times, counts and lists', () => {
    expect(formatLevel(0.95)).toBe(`95${T}%`);
    expect(formatLevel(0.999)).toBe(`99.9${T}%`);
    expect(formatTick(6)).toBe('6');
    expect(formatTick(2.5)).toBe('2.5');
    expect(formatTime(9.12, 'weeks')).toBe(`9.1${N}weeks`);
    expect(formatCount(286)).toBe('286');
    expect(listInWords(['a', 'b', 'c'])).toBe('a, b and c');
    expect(listInWords(['a'])).toBe('a');
    expect(listInWords([])).toBe('');
    expect(NOTHING).toBe(EN_DASH);
  });
});

describe('calendar dates', () => {
  // Checked against the rule of the Gregorian calendar: 2000 and 2024 are leap years, 1900 and 2100 are not.
  it.each([
    [0, '1970-01-01'],
    [-1, '1969-12-31'],
    [11016, '2000-02-29'],
    [11017, '2000-03-01'],
    [19782, '2024-02-29'],
    [20634, '2026-06-30'],
    [47540, '2100-02-28'],
    [47541, '2100-03-01'],
  ])('day %i is %s', (day, iso) => {
    expect(isoDate(day)).toBe(iso);
    expect(new Date(day * 86_400_000).toISOString().slice(0, 10)).toBe(iso);
  });

  it('writes the month as a word', () => {
    expect(formatDate(20634)).toBe(`30${N}June 2026`);
  });
});
