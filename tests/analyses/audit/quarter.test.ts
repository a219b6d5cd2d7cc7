import { describe, expect, it } from 'vitest';
import { quarterAt, quarterNamed, quarterOf } from '../../../src/analyses/audit/quarter.ts';
import { isoDate } from '../../../src/records/calendar-date.ts';
import { dayOf } from './hand-made.ts';

const names = (days: readonly string[], firstMonth: number): readonly string[] =>
  days.map(day => quarterOf(dayOf(day), firstMonth).name);

describe('quarters', () => {
  it('of calendar years start in January, April, July and October', () => {
    expect(names(['2026-01-01', '2026-03-31', '2026-04-01', '2026-09-30', '2026-12-31'], 1)).toEqual([
      '2026-Q1',
      '2026-Q1',
      '2026-Q2',
      '2026-Q3',
      '2026-Q4',
    ]);
  });

  it('of a financial year carry both years', () => {
    expect(names(['2026-03-31', '2026-04-01', '2026-12-31', '2027-01-01', '2027-03-31'], 4)).toEqual([
      '2025-26 Q4',
      '2026-27 Q1',
      '2026-27 Q3',
      '2026-27 Q4',
      '2026-27 Q4',
    ]);
    expect(names(['1999-11-30', '1999-12-01', '2000-02-29'], 12)).toEqual([
      '1998-99 Q4',
      '1999-00 Q1',
      '1999-00 Q1',
    ]);
  });

  it('have a first and a last day, leap years included', () => {
    const first = quarterNamed('2024-Q1', dayOf('2025-01-01'), 1);
    expect([isoDate(first.firstDay), isoDate(first.lastDay)]).toEqual(['2024-01-01', '2024-03-31']);
    const winter = quarterOf(dayOf('2024-01-15'), 12);
    expect([isoDate(winter.firstDay), isoDate(winter.lastDay)]).toEqual(['2023-12-01', '2024-02-29']);
  });

  it('follow one another without a gap, whatever month the year starts in', () => {
    for (let month = 1; month <= 12; month++) {
      for (let ordinal = 8000; ordinal < 8012; ordinal++) {
        const quarter = quarterAt(ordinal, month);
        expect(quarterAt(ordinal + 1, month).firstDay).toBe(quarter.lastDay + 1);
        expect(quarterOf(quarter.firstDay, month)).toEqual(quarter);
        expect(quarterOf(quarter.lastDay, month)).toEqual(quarter);
      }
    }
  });
});

describe('a quarter by name', () => {
  it('previous is the last one that was over at the cut-off, whose own day counts', () => {
    expect(quarterNamed('previous', dayOf('2026-09-29'), 1).name).toBe('2026-Q2');
    expect(quarterNamed('previous', dayOf('2026-09-30'), 1).name).toBe('2026-Q3');
    expect(quarterNamed('previous', dayOf('2026-10-01'), 1).name).toBe('2026-Q3');
    expect(quarterNamed('previous', dayOf('2026-01-05'), 1).name).toBe('2025-Q4');
    expect(quarterNamed('previous', dayOf('2026-04-30'), 5).name).toBe('2025-26 Q4');
  });

  it('reads the names it writes', () => {
    const cutOff = dayOf('2027-12-31');
    for (const text of ['2026-Q3', '2026-q3', '2026Q3', ' 2026 Q3 ']) {
      expect(quarterNamed(text, cutOff, 1).name).toBe('2026-Q3');
    }
    for (const text of ['2026-27 Q1', '2026-27-Q1', '2026/27 q1']) {
      expect(quarterNamed(text, cutOff, 4).name).toBe('2026-27 Q1');
    }
  });

  it.each([
    ['2026-Q5', 1],
    ['2026', 1],
    ['Q3', 1],
    ['2026-27 Q1', 1],
    ['2026-Q1', 4],
    ['2026-28 Q1', 4],
    ['', 1],
  ])('refuses %j in a year that starts in month %i', (text, firstMonth) => {
    expect(() => quarterNamed(text, dayOf('2027-12-31'), firstMonth)).toThrow(
      /^quarter .* cannot be read; allowed: previous, or a name such as 20/,
    );
  });

  it('refuses a quarter that starts after the cut-off, and takes one that has begun', () => {
    expect(quarterNamed('2026-Q3', dayOf('2026-07-01'), 1).name).toBe('2026-Q3');
    expect(() => quarterNamed('2026-Q3', dayOf('2026-06-30'), 1)).toThrow(
      'quarter 2026-Q3 starts on 2026-07-01, after the data cut-off 2026-06-30; the last full one is 2026-Q2',
    );
  });
});
