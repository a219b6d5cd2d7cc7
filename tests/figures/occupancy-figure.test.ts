import { describe, expect, it } from 'vitest';
import type { OccupancyShares } from '../../src/analyses/occupancy-shares.ts';
import { FIGURE_WIDTHS, occupancyFigure, renderSvg } from '../../src/figures/index.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

const NONE = [
  [undefined, undefined, undefined],
  [undefined, undefined, undefined],
  [undefined, undefined, undefined],
];

/** By state, then week: full time falls, finished grows, few leave. */
const SHARES: OccupancyShares = {
  key: 'occupancy.severe',
  group: 'severe',
  states: ['24 hours', 'finished', 'left'],
  week: [0, 1, 2],
  share: [
    [1, 0.5, 0.25],
    [0, 0.5, 0.65],
    [0, 0, 0.1],
  ],
  standardError: [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ],
  lower: NONE,
  upper: NONE,
  inTherapy: [20, 20, 10],
  n: 20,
  infants: 15,
};

const OPTIONS = { key: 'o', weekTicks: [0, 2, 6], titleWeek: 2 };

describe('phases by week as areas', () => {
  it('stacks each state on those before it, up to the whole', () => {
    const spec = occupancyFigure(SHARES, OPTIONS).specs.page;
    const layers = 'layer' in spec ? spec.layer : [];
    const area = (state: string): unknown => layers.find(({ name }) => name === `area of ${state}`)?.data;
    expect(area('24 hours')).toEqual({
      values: [
        { week: 0, from: 0, to: 1 },
        { week: 1, from: 0, to: 0.5 },
        { week: 2, from: 0, to: 0.25 },
      ],
    });
    expect(area('left')).toEqual({
      values: [
        { week: 0, from: 1, to: 1 },
        { week: 1, from: 1, to: 1 },
        { week: 2, from: 0.9, to: 1 },
      ],
    });
  });

  it('states the shares of a week in its title, and of every week in the table behind it', () => {
    const figure = occupancyFigure(SHARES, OPTIONS);
    expect(figure.title).toBe(
      'At week 2, of severe feet 25\u202F% were at 24 hours and 65\u202F% had finished',
    );
    expect(figure.values?.rows.map(({ cells }) => cells)).toEqual([
      ['0', '100', '0', '0', '20'],
      ['1', '50', '50', '0', '20'],
      ['2', '25', '65', '10', '10'],
    ]);
  });

  it('speaks of the last week where the one for the title is not there', () => {
    expect(occupancyFigure(SHARES, { ...OPTIONS, titleWeek: 16 }).title).toMatch(/^At week 2,/);
  });

  it('keeps labels apart and inside, and counts under ticks alone', async () => {
    for (const width of ['page', 'narrow'] as const) {
      const texts = drawnTexts(await renderSvg(occupancyFigure(SHARES, OPTIONS), width));
      const labels = texts.filter(({ text }) => ['24 hours', 'Finished', 'Left'].includes(text));
      const heights = labels.map(({ y }) => y).sort((a, b) => a - b);
      expect(heights).toHaveLength(3);
      expect((heights[1] ?? 0) - (heights[0] ?? 0)).toBeGreaterThanOrEqual(15);
      expect((heights[2] ?? 0) - (heights[1] ?? 0)).toBeGreaterThanOrEqual(15);
      for (const { text, x, size } of labels) {
        expect(x + textWidth(text, size)).toBeLessThanOrEqual(FIGURE_WIDTHS[width]);
      }
      expect(texts.filter(({ text }) => text === '20')).toHaveLength(1);
    }
  });

  it('is drawn for one week, and refused without any', async () => {
    const single = { ...SHARES, week: [0], share: [[1], [0], [0]], inTherapy: [20] };
    expect(await renderSvg(occupancyFigure(single, OPTIONS), 'narrow')).not.toContain('NaN');
    expect(() => occupancyFigure({ ...SHARES, week: [] }, OPTIONS)).toThrow('figure o has no week');
  });
});
