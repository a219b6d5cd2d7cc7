import { describe, expect, it } from 'vitest';
import type { Plot } from '../../src/analyses/plots.ts';
import { FIGURE_WIDTHS, plotFigure, renderSvg } from '../../src/figures/index.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

const SIZE = { n: 40, infants: 30 };

const RESIDUALS: Plot = {
  key: 'schoenfeld',
  title: 'Log hazard ratio over time',
  x: { label: 'Weeks since first fitting', unit: 'weeks' },
  y: { label: 'Log hazard ratio' },
  series: [
    { key: 'residuals', label: 'Residuals', shape: 'points', x: [4, 9, 14], y: [-1, 0.5, 1] },
    {
      key: 'smooth',
      label: 'Smoothed',
      shape: 'line',
      x: [4, 9, 14, 50],
      y: [-0.5, 0, 0.5, 90],
      lower: [-1, -0.5, 0, -900],
      upper: [0, undefined, 1, 900],
    },
  ],
  references: [{ kind: 'level', y: 0.2, label: 'ratio of the model' }],
  reading: 'A slope speaks against one ratio.',
  ...SIZE,
};

const FITTED: Plot = {
  ...RESIDUALS,
  key: 'fitted',
  title: 'Observed and fitted',
  series: ['mild', 'severe'].flatMap((group, i) => [
    {
      key: `observed.${group}`,
      label: `${group}, observed`,
      group,
      shape: 'steps' as const,
      x: [0, 10, 20],
      y: [1, 0.5, 0.1 + 0.01 * i],
      lower: [1, 0.4, 0],
      upper: [1, 0.6, 0.2],
    },
    {
      key: `fitted.${group}`,
      label: `${group}, fitted`,
      group,
      shape: 'line' as const,
      x: [0, 20],
      y: [1, 0.1],
    },
  ]),
  references: [],
};

describe('a plot of a model check', () => {
  it('stops lines at the last point, since nothing was seen beyond', () => {
    const figure = plotFigure(RESIDUALS, { key: 'r', level: 0.95 });
    expect(figure.values?.rows.map(({ at }) => at)).toEqual([4, 9, 14]);
    const spec = JSON.stringify(figure.specs.page);
    expect(spec).toContain('"domain":[0,14]');
    expect(spec).not.toContain('900');
  });

  it('says what each mark is, and how to read it to those who cannot see it', () => {
    const { subtitle, description } = plotFigure(RESIDUALS, { key: 'r', level: 0.95 });
    expect(subtitle).toBe(
      'Log hazard ratio; points: residuals; line: smoothed; shaded: 95\u202F% limits; level rule: ratio of the model',
    );
    expect(description).toContain('A slope speaks against one ratio. 40 feet of 30 infants.');
  });

  it('labels groups once, apart and inside the figure, in both widths', async () => {
    const figure = plotFigure(FITTED, { key: 'f', level: 0.95 });
    expect(figure.subtitle).toContain('steps: observed; line: fitted; shaded: 95\u202F% limits of the steps');
    for (const width of ['page', 'narrow'] as const) {
      const texts = drawnTexts(await renderSvg(figure, width));
      const labels = texts.filter(({ text }) => text === 'Mild' || text === 'Severe');
      expect(labels.map(({ text }) => text)).toEqual(['Mild', 'Severe']);
      expect(Math.abs((labels[0]?.y ?? 0) - (labels[1]?.y ?? 0))).toBeGreaterThanOrEqual(15);
      for (const { text, x, size } of labels) {
        expect(x + textWidth(text, size, 'bold')).toBeLessThanOrEqual(FIGURE_WIDTHS[width]);
      }
    }
  });

  it('draws the diagonal as far as both axes go', () => {
    const plot: Plot = {
      ...RESIDUALS,
      series: [{ key: 'r', label: 'Residuals', shape: 'steps', x: [0.1, 3.7], y: [0.1, 2.2] }],
      references: [{ kind: 'diagonal' }],
    };
    const spec = plotFigure(plot, { key: 'd', level: 0.95 }).specs.page;
    const layers = 'layer' in spec ? spec.layer : [];
    const diagonal = layers.find(layer => layer.name === 'reference 1');
    expect(diagonal).toMatchObject({
      data: {
        values: [
          { x: 0, y: 0 },
          { x: 3, y: 3 },
        ],
      },
    });
  });

  it('of a single point is drawn, and without a value is refused', async () => {
    const single = { key: 'r', label: 'Residuals', shape: 'points' as const, x: [0], y: [0] };
    const drawn = await renderSvg(
      plotFigure({ ...RESIDUALS, series: [single] }, { key: 's', level: 0.95 }),
      'page',
    );
    expect(drawn).not.toContain('NaN');
    expect(() =>
      plotFigure({ ...RESIDUALS, series: [{ ...single, x: [], y: [] }] }, { key: 'none', level: 0.95 }),
    ).toThrow('figure none has no value');
  });
});
