import { describe, expect, it } from 'vitest';
import { forestAxis } from '../../src/figures/forest-axis.ts';
import { type ForestFigureOptions, type ForestRow, forestFigure } from '../../src/figures/forest-figure.ts';
import { renderSvg } from '../../src/figures/render-svg.ts';
import { deepFreeze } from '../reports/fixtures/load.ts';
import { drawnTexts, parseSvg, placeOf } from './svg.ts';

const options: ForestFigureOptions = {
  key: 'hazard-ratios',
  title: 'Severe feet took longer to finish',
  subtitle: 'Hazard ratio with 95 % intervals',
  kind: 'ratio',
  reference: 1,
  scale: 'log',
};

const rows: readonly ForestRow[] = deepFreeze([
  { label: 'Mild', n: 80, estimate: 1 },
  { label: 'Moderate', n: 120, estimate: 0.7, lower: 0.55, upper: 0.9 },
  { label: 'Severe', n: 60, estimate: 0.4, lower: 0.22, upper: 0.71 },
  { label: 'Straight', n: 3, state: 'too few' },
]);

describe('the axis of a forest plot', () => {
  it('runs from tick to tick round every value', () => {
    expect(forestAxis(rows, 'log', 1, 'x')).toEqual({ domain: [0.2, 1], ticks: [0.2, 0.5, 1] });
    expect(forestAxis([{ estimate: 3, lower: -1, upper: 7.2 }], 'linear', 0, 'x').ticks).toEqual([
      -5, 0, 5, 10,
    ]);
    expect(forestAxis([{ estimate: 0.31, lower: 0.25, upper: 0.4 }], 'linear', undefined, 'x').ticks).toEqual(
      [0.25, 0.3, 0.35, 0.4],
    );
    expect(forestAxis([{}], 'linear', undefined, 'x').ticks.length).toBeGreaterThan(1);
    expect(forestAxis([{ estimate: 1 }], 'log', 1, 'x').ticks).toEqual([1, 2]);
  });

  it('refuses what a logarithm cannot hold', () => {
    expect(() => forestAxis([{ estimate: 0 }], 'log', 1, 'hr')).toThrow('figure hr holds 0');
  });
});

describe.each(['page', 'narrow'] as const)('a forest plot, %s', width => {
  it('writes each row with its numbers on one line, in order, inside the drawing', async () => {
    const svg = await renderSvg(forestFigure(rows, options), width);
    const texts = drawnTexts(svg);
    const labels = ['Mild (n 80)', 'Moderate (n 120)', 'Severe (n 60)', 'Straight (n 3)'];
    const values = ['1.00', '0.70 (0.55 to 0.90)', '0.40 (0.22 to 0.71)', 'too few'];
    const heights = labels.map(label => texts.find(({ text }) => text === label)?.y);
    expect(values.map(value => texts.find(({ text }) => text === value)?.y)).toEqual(heights);
    expect([...heights].sort((a, b) => (a ?? 0) - (b ?? 0))).toEqual(heights);
    expect(Math.min(...texts.map(({ x }) => x))).toBeGreaterThanOrEqual(0);
  });

  it('draws a mark for each estimate and none for a state', async () => {
    const svg = await renderSvg(forestFigure(rows, options), width);
    const marks = [...parseSvg(svg).querySelectorAll('path')].filter(
      path => path.getAttribute('fill') === '#1a1a1a',
    );
    expect(marks).toHaveLength(3);
    const places = marks.map(placeOf).map(({ x }) => x);
    expect(places[0]).toBeGreaterThan(places[1] ?? 0);
    expect(places[1]).toBeGreaterThan(places[2] ?? 0);
    const intervals = [...parseSvg(svg).querySelectorAll('line')].filter(
      line => line.getAttribute('stroke') === '#1a1a1a' && line.getAttribute('stroke-width') === '1.5',
    );
    expect(intervals).toHaveLength(2);
  });
});

describe('the words of a forest plot', () => {
  it('say every row for those who cannot see', () => {
    expect(forestFigure(rows, options).description).toBe(
      'Severe feet took longer to finish. Hazard ratio with 95 % intervals. Mild: 1.00 (n 80); Moderate: 0.70 (0.55 to 0.90) (n 120); Severe: 0.40 (0.22 to 0.71) (n 60); Straight: too few (n 3).',
    );
  });

  it('need a row', () => {
    expect(() => forestFigure([], options)).toThrow('figure hazard-ratios has no row');
  });
});
