import { describe, expect, it } from 'vitest';
import { adherenceCalendar, type CalendarWeek, contrastRatio, renderSvg } from '../../src/figures/index.ts';
import { CALENDAR_SHADES, INK, PAPER } from '../../src/figures/palette.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

const OPTIONS = {
  key: 'c',
  classes: ['80\u202F% and more', 'under 80\u202F%'],
  title: 'What was found',
  infants: 90,
  minimumFeet: 10,
};
const WEEKS: readonly CalendarWeek[] = [
  { week: 1, feet: 100, counts: [100, 0] },
  { week: 2, feet: 80, counts: [60, 20] },
  { week: 3, feet: 9, counts: [8, 1] },
  { week: 4, feet: 20, counts: [undefined, undefined] },
];

function cellsOf(weeks: readonly CalendarWeek[]): readonly { week: number; top: number; shade: string }[] {
  const spec = adherenceCalendar(weeks, OPTIONS).specs.page;
  const data = 'layer' in spec ? spec.layer.find(({ name }) => name === 'cells')?.data : undefined;
  return data !== undefined && data !== null && 'values' in data ? (data.values as never) : [];
}

describe('the calendar of adherence', () => {
  it('shades a cell by the share of feet, and nothing for none, few feet or what is not told', () => {
    const shades = cellsOf(WEEKS).map(({ week, top, shade }) => [week, top, CALENDAR_SHADES.indexOf(shade)]);
    expect(shades).toEqual([
      [1, 0, 5],
      [1, 30, 0],
      [2, 0, 4],
      [2, 30, 2],
      [3, 0, 0],
      [3, 30, 0],
      [4, 0, 0],
      [4, 30, 0],
    ]);
  });

  it('prints the share in each cell of the wide drawing, legibly on every shade', async () => {
    const texts = drawnTexts(await renderSvg(adherenceCalendar(WEEKS, OPTIONS), 'page'));
    expect(texts.filter(({ text }) => text === '75')).toHaveLength(1);
    expect(texts.filter(({ text }) => text === '89')).toHaveLength(0);
    for (const shade of CALENDAR_SHADES) {
      expect(Math.max(contrastRatio(shade, INK), contrastRatio(shade, PAPER))).toBeGreaterThan(4.5);
    }
    expect(contrastRatio(CALENDAR_SHADES[3] ?? '', INK)).toBeGreaterThan(4.5);
    expect(contrastRatio(CALENDAR_SHADES[4] ?? '', PAPER)).toBeGreaterThan(4.5);
  });

  it('keeps the counts under the weeks apart at both widths', async () => {
    const weeks = Array.from({ length: 24 }, (_, i) => ({
      week: i + 1,
      feet: 179 - i,
      counts: [100, 79 - i],
    }));
    for (const width of ['page', 'narrow'] as const) {
      const texts = drawnTexts(await renderSvg(adherenceCalendar(weeks, OPTIONS), width));
      const counts = texts.filter(({ text }) => /^1[567]\d$/.test(text)).sort((a, b) => a.x - b.x);
      expect(counts.length).toBeGreaterThan(6);
      for (const [i, { text, x, size }] of counts.entries()) {
        const next = counts[i + 1];
        if (next !== undefined) expect(next.x - x).toBeGreaterThan(textWidth(text, size) + 3);
      }
    }
  });

  it('gives every week in the table behind it, a dash for what is not told', () => {
    const { values, description } = adherenceCalendar(WEEKS, OPTIONS);
    expect(values?.rows.map(({ cells }) => cells)).toEqual([
      ['1', '100', '100', '0'],
      ['2', '80', '75', '25'],
      ['3', '9', '89', '11'],
      ['4', '20', '–', '–'],
    ]);
    expect(description).toContain('Week 1 (100 feet): 80\u202F% and more 100\u202F%');
  });

  it('is drawn for one week, and refused for none', async () => {
    expect(await renderSvg(adherenceCalendar(WEEKS.slice(0, 1), OPTIONS), 'narrow')).not.toContain('NaN');
    expect(() => adherenceCalendar([], OPTIONS)).toThrow('figure c has no week');
  });
});
