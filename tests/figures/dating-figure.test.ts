import { describe, expect, it } from 'vitest';
import type { Plot } from '../../src/analyses/plots.ts';
import { datingFigure, FIGURE_WIDTHS, renderSvg } from '../../src/figures/index.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

function band(group: string, scale: number): Plot {
  return {
    key: `dating.${group}`,
    title: group,
    x: { label: 'Weeks' },
    y: { label: 'Share' },
    series: [
      {
        key: `seen.${group}`,
        label: 'seen',
        group,
        shape: 'steps',
        x: [0, 6, 12],
        y: [0, 0.5 * scale, scale],
      },
      {
        key: `between.${group}`,
        label: 'between',
        group,
        shape: 'steps',
        x: [0, 2, 6],
        y: [0, 0, 0.8 * scale],
        lower: [0, 0, 0.8 * scale],
        upper: [0, 0.8 * scale, 0.8 * scale],
      },
      { key: `weibull.${group}`, label: 'model', group, shape: 'line', x: [0, 12], y: [0, scale] },
    ],
    references: [],
    reading: 'How to read it.',
    n: 40,
    infants: 31,
  };
}

const PLOTS = [band('mild', 1), band('moderate', 0.9), band('severe', 0.6)];
/** Texts of one line in and under the panels. */
const IN_PLOT = /^(n: |infants|Mild|Moderate|Severe|Weeks)/;
const OPTIONS = { key: 'd', title: 'What was found', weekTicks: [0, 2, 6, 9, 12, 16] };

describe('correction as checkups date it, and between checkups', () => {
  it('draws each band in a panel of its own on one scale, the stretch between its two ends', () => {
    const spec = datingFigure(PLOTS, OPTIONS).specs.page;
    const layers = 'layer' in spec ? spec.layer : [];
    const layerOf = (name: string) => layers.find(layer => layer.name === name);
    const rowsOf = (name: string): readonly Record<string, number>[] => {
      const data = layerOf(name)?.data;
      return data !== undefined && data !== null && 'values' in data ? (data.values as never) : [];
    };
    const placesOf = (name: string): unknown => layerOf(name)?.transform;
    expect(rowsOf('seen.mild')).toEqual([
      { week: 0, share: 0 },
      { week: 6, share: 0.5 },
      { week: 12, share: 1 },
    ]);
    expect(rowsOf('between.moderate')[1]).toEqual({ week: 2, atLeast: 0, atMost: 0.8 * 0.9 });
    // Twelve weeks of a panel, and two whole ones between it and the next.
    for (const [i, name] of ['mild', 'moderate', 'severe'].entries()) {
      for (const kind of ['seen', 'between']) {
        expect(placesOf(`${kind}.${name}`)).toEqual([{ calculate: `datum.week + ${14 * i}`, as: 'place' }]);
      }
    }
  });

  it('keeps every text inside the drawing and ticks of one panel apart', async () => {
    for (const width of ['page', 'narrow'] as const) {
      const texts = drawnTexts(await renderSvg(datingFigure(PLOTS, OPTIONS), width));
      for (const { text, x, size, weight } of texts.filter(({ text }) => IN_PLOT.test(text))) {
        expect(x + textWidth(text, size, weight === 'bold' ? 'bold' : 'regular')).toBeLessThanOrEqual(
          FIGURE_WIDTHS[width],
        );
      }
      const ticks = texts.filter(({ text }) => /^(0|2|6|9|12)$/.test(text));
      expect(ticks.filter(({ text }) => text === '6')).toHaveLength(3);
      expect(texts.map(({ text }) => text)).toEqual(expect.arrayContaining(['Mild', 'Moderate', 'Severe']));
      const lines = new Map<number, number[]>();
      for (const { x, y } of ticks) lines.set(y, [...(lines.get(y) ?? []), x]);
      for (const xs of lines.values()) {
        const sorted = xs.sort((a, b) => a - b);
        for (const [i, x] of sorted.entries()) {
          if (i > 0) expect(x - (sorted[i - 1] ?? 0)).toBeGreaterThan(12);
        }
      }
    }
  });

  it('gives the values week by week, a dash after the last of a series', () => {
    const { values } = datingFigure([band('severe', 0.6)], OPTIONS);
    expect(values?.columns.map(({ label }) => label)).toEqual([
      'Week',
      'Severe: seen',
      'Severe: at least',
      'Severe: at most',
      'Severe: model',
    ]);
    expect(values?.rows[6]?.cells).toEqual(['6', '30.0', '48.0', '48.0', '0.0']);
    expect(values?.rows[7]?.cells).toEqual(['7', '30.0', '–', '–', '0.0']);
    expect(values?.rows[12]?.cells[1]).toBe('60.0');
  });

  it('is drawn without a model and for one band, and refused without any value', async () => {
    const bare = { ...band('mild', 1), series: band('mild', 1).series.slice(0, 1) };
    expect(await renderSvg(datingFigure([bare], OPTIONS), 'narrow')).not.toContain('NaN');
    expect(() => datingFigure([{ ...bare, series: [] }], OPTIONS)).toThrow('figure d has no value');
    expect(() => datingFigure([], OPTIONS)).toThrow('figure d has no value');
  });
});
