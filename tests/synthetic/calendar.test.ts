import { describe, expect, it } from 'vitest';
import {
  fromIsoDate,
  isoDate,
  nextQuarterStart,
  quarterOf,
  workingDay,
} from '../../src/synthetic/calendar.ts';

describe('calendar of the generator', () => {
  it('moves Saturday to Friday and Sunday to Monday, and leaves working days', () => {
    // 2024-03-01 was a Friday.
    const moved = ['2024-03-01', '2024-03-02', '2024-03-03', '2024-03-04'].map(d =>
      isoDate(workingDay(fromIsoDate(d))),
    );
    expect(moved).toEqual(['2024-03-01', '2024-03-01', '2024-03-04', '2024-03-04']);
  });

  it('counts quarters across the turn of a year', () => {
    const q = (text: string) => quarterOf(fromIsoDate(text));
    expect(q('2025-01-01') - q('2024-12-31')).toBe(1);
    expect(q('2024-03-31') - q('2024-01-01')).toBe(0);
    expect(isoDate(nextQuarterStart(fromIsoDate('2024-11-20')))).toBe('2025-01-01');
    expect(isoDate(nextQuarterStart(fromIsoDate('2024-01-01')))).toBe('2024-04-01');
  });

  it('refuses what is no date', () => {
    expect(() => fromIsoDate('2024-02-30')).toThrow('2024-02-30 is not a calendar date');
  });
});
