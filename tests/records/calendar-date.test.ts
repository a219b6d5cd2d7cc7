import { assert, integer, property, string } from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { daysFromIsoDate, isoDate } from '../../src/records/calendar-date.ts';

const EPOCH = Temporal.PlainDate.from('1970-01-01');

describe('dates as whole days', () => {
  it('knows some days by heart', () => {
    expect(daysFromIsoDate('1970-01-01')).toBe(0);
    expect(daysFromIsoDate('1969-12-31')).toBe(-1);
    expect(daysFromIsoDate('2000-02-29')).toBe(11_016);
    expect(daysFromIsoDate('2000-03-01')).toBe(11_017);
    expect(isoDate(20_156)).toBe('2025-03-09');
  });

  it('agrees with Temporal on every 97th day of the years 0000 to 9999, there and back', () => {
    const first = daysFromIsoDate('0000-01-01') ?? Number.NaN;
    const last = daysFromIsoDate('9999-12-31') ?? Number.NaN;
    expect([first, last]).toEqual([-719_528, 2_932_896]);
    const wrong: string[] = [];
    for (let days = first; days <= last; days += 97) {
      const text = EPOCH.add({ days }).toString();
      if (isoDate(days) !== text || daysFromIsoDate(text) !== days) wrong.push(text);
    }
    expect(wrong).toEqual([]);
  });

  it('agrees with Temporal on every day of 1896 to 2104, so on leap years and their absence', () => {
    const wrong: string[] = [];
    let date = Temporal.PlainDate.from('1896-01-01');
    for (let days = daysFromIsoDate('1896-01-01') ?? Number.NaN; date.year < 2105; days++) {
      if (isoDate(days) !== date.toString() || daysFromIsoDate(date.toString()) !== days) {
        wrong.push(date.toString());
      }
      date = date.add({ days: 1 });
    }
    expect(wrong).toEqual([]);
  });

  it.each([
    '2024-02-30',
    '2023-02-29',
    '1900-02-29',
    '2024-04-31',
    '2024-13-01',
    '2024-00-10',
    '2024-01-00',
    '2024-1-1',
    '20240101',
    '2024/01/01',
    '01-02-2024',
    '2024-01-01T00:00',
    ' 2024-01-01',
    '-024-01-01',
    '2024-01-0x',
    '٢٠٢٤-٠١-٠١',
    '',
  ])('refuses %j', text => {
    expect(daysFromIsoDate(text)).toBeUndefined();
  });

  it('never takes a text for a date that does not come back as it was', () => {
    assert(
      property(string({ minLength: 10, maxLength: 10 }), text => {
        const days = daysFromIsoDate(text);
        expect(days === undefined || isoDate(days) === text).toBe(true);
      }),
      { seed: 2 },
    );
    assert(
      property(integer({ min: -719_528, max: 2_932_896 }), days => {
        expect(daysFromIsoDate(isoDate(days))).toBe(days);
      }),
      { seed: 3 },
    );
  });

  it('throws for days outside the years 0000 to 9999 and for fractions', () => {
    expect(() => isoDate(2_932_897)).toThrow(RangeError);
    expect(() => isoDate(-719_529)).toThrow(RangeError);
    expect(() => isoDate(0.5)).toThrow('0.5 is not a whole number of days within the years 0000 to 9999');
  });
});
