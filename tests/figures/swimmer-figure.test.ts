import { describe, expect, it } from 'vitest';
import type { CourseSample } from '../../src/analyses/courses.ts';
import { FIGURE_WIDTHS, renderSvg, swimmerFigure } from '../../src/figures/index.ts';
import { keyPlaces } from '../../src/figures/key-layers.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

const SAMPLE: CourseSample = {
  states: ['24 hours', '15 hours', '12 hours'],
  courses: [
    {
      stretches: [
        { state: '24 hours', from: 0, to: 8 },
        { state: '15 hours', from: 8, to: 30 },
        { state: '12 hours', from: 30, to: 34 },
      ],
      end: 'finished',
      corrected: 28,
      relapses: [12, 31],
    },
    { stretches: [{ state: '24 hours', from: 0, to: 10 }], end: 'left', relapses: [] },
    { stretches: [{ state: '24 hours', from: 0, to: 6 }], end: 'in therapy', corrected: 6, relapses: [] },
    { stretches: [], end: 'in therapy', relapses: [] },
  ],
  n: 120,
  infants: 90,
};
const OPTIONS = { key: 's', lastWeek: 24, weekTicks: [0, 6, 12, 24, 36] };

function rowsOf(name: string, sample = SAMPLE): readonly Record<string, unknown>[] {
  const spec = swimmerFigure(sample, OPTIONS).specs.page;
  const data = 'layer' in spec ? spec.layer.find(layer => layer.name === name)?.data : undefined;
  return data !== undefined && data !== null && 'values' in data ? (data.values as never) : [];
}

describe('courses of single feet', () => {
  it('draws the phases in lanes, cut at the last week, and leaves out what lies behind it', () => {
    expect(rowsOf('stretches').map(({ week, end }) => [week, end])).toEqual([
      [0, 8],
      [8, 24],
      [0, 10],
      [0, 6],
    ]);
    expect(rowsOf('corrected').map(({ week }) => week)).toEqual([6]);
    expect(rowsOf('relapses').map(({ week }) => week)).toEqual([12]);
    expect(rowsOf('left').map(({ week }) => week)).toEqual([10]);
    expect(rowsOf('in therapy').map(({ week }) => week)).toEqual([24, 6, 0]);
  });

  it('puts the marks of a lane at the middle of its bars', () => {
    const [bar] = rowsOf('stretches').slice(3);
    const middle = (Number(bar?.top) + Number(bar?.bottom)) / 2;
    expect(rowsOf('corrected')[0]?.lane).toBe(middle);
  });

  it('tells every course in the table behind it', () => {
    expect(swimmerFigure(SAMPLE, OPTIONS).values?.rows.map(({ cells }) => cells)).toEqual([
      ['24 hours 0–8, 15 hours 8–30, 12 hours 30–34', '28', '12, 31', 'finished'],
      ['24 hours 0–10', '–', '–', 'left'],
      ['24 hours 0–6', '6', '–', 'in therapy'],
      ['less than a week', '–', '–', 'in therapy'],
    ]);
  });

  it('keeps the key inside the drawing at both widths', async () => {
    for (const width of ['page', 'narrow'] as const) {
      const texts = drawnTexts(await renderSvg(swimmerFigure(SAMPLE, OPTIONS), width));
      const key = texts.filter(({ text }) => /hours$|corrected$|^relapse|withdrawn$|further$/.test(text));
      expect(key).toHaveLength(7);
      for (const { text, x, size } of key) {
        expect(x + textWidth(text, size)).toBeLessThanOrEqual(FIGURE_WIDTHS[width]);
      }
    }
  });

  it('begins a new line of the key where an entry has no room', () => {
    const entry = { label: 'wide words', mark: { kind: 'swatch', colour: '#000000' } } as const;
    const needed = 17 + textWidth('wide words', 10);
    expect(keyPlaces([entry, entry, entry], 2 * needed + 16, 10)).toEqual([
      { x: 0, y: 0 },
      { x: needed + 16, y: 0 },
      { x: 0, y: 18 },
    ]);
  });

  it('is refused without a course', () => {
    expect(() => swimmerFigure({ ...SAMPLE, courses: [] }, OPTIONS)).toThrow('figure s has no course');
  });
});
