import { describe, expect, it } from 'vitest';
import type { QuarterChart } from '../../src/analyses/quarter-chart.ts';
import type { StandardResult } from '../../src/analyses/standard-result.ts';
import type { UnitFunnel } from '../../src/analyses/unit-funnel.ts';
import { shareScale } from '../../src/figures/chart-frame.ts';
import { controlChartFigure } from '../../src/figures/control-chart.ts';
import { FIGURE_WIDTHS, type Figure, type FigureWidth } from '../../src/figures/figure.ts';
import { funnelFigure } from '../../src/figures/funnel.ts';
import { intervalBarFigure } from '../../src/figures/interval-bar.ts';
import { renderSvg } from '../../src/figures/render-svg.ts';
import { signalLabels } from '../../src/figures/signal-labels.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { drawnTexts } from './svg.ts';

const WIDTHS: readonly FigureWidth[] = ['page', 'narrow'];

const RESULTS: readonly StandardResult[] = [
  {
    key: 'a',
    title: 'Teach-back done',
    direction: 'at least',
    target: 0.95,
    count: 23,
    n: 33,
    infants: 20,
    share: { estimate: 23 / 33, lower: 0.527, upper: 0.826 },
    verdict: 'not met',
  },
  {
    key: 'b',
    title: 'Skin reviewed',
    direction: 'at least',
    target: 1,
    count: 0,
    n: 0,
    infants: 0,
    verdict: 'too few to say',
  },
];

const CHART: QuarterChart = {
  key: 'c',
  title: 'Teach-back done',
  kind: 'proportion',
  unit: 'of 1',
  quarters: ['2025-Q3', '2025-Q4', '2026-Q1', '2026-Q2'],
  points: [0.9, 0.92, 0.5, 0.9].map((value, place) => ({
    place,
    count: Math.round(value * 40),
    size: 40,
    value,
    lower: 0.7,
    upper: 1,
  })),
  centre: 0.8,
  target: 0.95,
  ruleSet: 'western-electric',
  signals: [{ place: 2, rule: 'beyond 3 sigma', side: 'below' }],
  median: 0.9,
  shift: 8,
  shifts: [],
};

const LIMITS = { inner: { lower: 0.7, upper: 0.95 }, outer: { lower: 0.6, upper: 1 } };
const FUNNEL: UnitFunnel = {
  key: 'f',
  title: 'Teach-back done',
  direction: 'at least',
  centre: 0.85,
  centreIs: 'overall',
  units: [
    { kind: 'site', code: 'birch', count: 54, n: 60, value: 0.9, ...LIMITS },
    {
      kind: 'site',
      code: 'aspen',
      count: 15,
      n: 30,
      value: 0.5,
      ...LIMITS,
      beyond: { limit: '99.8 %', side: 'below' },
    },
    { kind: 'clinician', code: 'c-1', count: 20, n: 25, value: 0.8, ...LIMITS },
  ],
  limits: [1, 30, 60].map(n => ({ n, ...LIMITS })),
  dispersion: { site: 12.3 },
};

const FIGURES: readonly Figure[] = [
  intervalBarFigure(RESULTS, { key: 'bars', title: 'None of 1 standard was met', level: 0.95 }),
  controlChartFigure(CHART, { key: 'chart' }),
  funnelFigure(FUNNEL, { key: 'funnel', period: '2026-Q1' }),
];

describe('figures of the audit', () => {
  it.each(FIGURES)('$key keeps every text inside, in both widths', async figure => {
    for (const width of WIDTHS) {
      for (const { text, x, size, weight } of drawnTexts(await renderSvg(figure, width))) {
        const bold = weight === 'bold' ? 'bold' : 'regular';
        expect(x, text).toBeGreaterThanOrEqual(0);
        expect(x - textWidth(text, size, bold), text).toBeLessThan(FIGURE_WIDTHS[width]);
      }
    }
  });

  it.each(FIGURES)('$key is drawn the same twice', async figure => {
    expect(await renderSvg(figure, 'page')).toBe(await renderSvg(figure, 'page'));
  });

  it('gives the verdict as words, and names what did not fall due', async () => {
    const [bars] = FIGURES;
    if (bars === undefined) throw new Error('no figure');
    const texts = drawnTexts(await renderSvg(bars, 'page')).map(({ text }) => text);
    expect(texts).toContain('not met');
    expect(texts).toContain('nothing fell due');
    expect(bars.description).toContain(
      'Teach-back done: 70 (53 to 83)\u202F% of 33, target at least 95\u202F%: not met.',
    );
  });

  it('names the rule that fired beside a mark of another shape', async () => {
    const figure = controlChartFigure(CHART, { key: 'chart' });
    expect(figure.title).toBe('Teach-back done: beyond 3 sigma in 2026-Q1');
    const texts = drawnTexts(await renderSvg(figure, 'page')).map(({ text }) => text);
    expect(texts).toContain('beyond 3 sigma');
    expect(JSON.stringify(figure.specs.page)).toContain('"shape":"diamond"');
    expect(figure.description).toContain('2026-Q1 50\u202F% of 40, limits 70\u202F% to 100\u202F%');
    expect(controlChartFigure({ ...CHART, signals: [] }, { key: 'quiet' }).title).toBe(
      'Teach-back done: no signal of change',
    );
  });

  it('is drawn where one rule fired at several points', async () => {
    const rule = 'beyond 3 sigma';
    const signals = [
      { place: 0, rule, side: 'below' as const },
      { place: 2, rule, side: 'below' as const },
      { place: 2, rule, side: 'above' as const },
    ];
    const figure = controlChartFigure({ ...CHART, signals }, { key: 'several' });
    const texts = drawnTexts(await renderSvg(figure, 'narrow')).map(({ text }) => text);
    expect(texts.filter(text => text === rule)).toHaveLength(3);
  });

  it('names sites by code, clinicians only outside the limits, and states the dispersion', async () => {
    const figure = funnelFigure(FUNNEL, { key: 'funnel', period: '2026-Q1' });
    const texts = drawnTexts(await renderSvg(figure, 'page')).map(({ text }) => text);
    expect(texts).toContain('birch');
    expect(texts).toContain('aspen, beyond 99.8 %');
    expect(texts.filter(text => text.startsWith('c-1'))).toEqual([]);
    expect(figure.description).toContain('Dispersion between sites 12.30.');
  });
});

describe('signal labels', () => {
  it('stand once a row of points, over the last of it, in lanes that keep them apart', () => {
    const rule = 'eight in a row on one side of the centre';
    const signals = [
      { place: 7, rule, side: 'above' as const },
      { place: 8, rule, side: 'above' as const },
      { place: 8, rule: 'beyond 3 sigma', side: 'above' as const },
      { place: 2, rule: 'beyond 3 sigma', side: 'below' as const },
    ];
    const labels = signalLabels(signals, place => place * 40, 400, 11);
    expect(labels.map(({ place, text }) => [place, text])).toEqual([
      [2, 'beyond 3 sigma'],
      [8, rule],
      [8, 'beyond 3 sigma'],
    ]);
    expect(labels[1]?.lane).not.toBe(labels[2]?.lane);
    for (const { text, x } of labels) {
      expect(x - textWidth(text, 11, 'bold') / 2).toBeGreaterThanOrEqual(0);
      expect(x + textWidth(text, 11, 'bold') / 2).toBeLessThanOrEqual(400 + 1e-9);
    }
  });
});

describe('scale of shares', () => {
  it.each([
    [
      [1, 1],
      [0.9, 1],
    ],
    [
      [0, 0],
      [0, 0.1],
    ],
    [
      [0.62, 0.95],
      [0.6, 1],
    ],
    [
      [0.05, 0.97],
      [0, 1],
    ],
  ])('of %j is %j', (values, domain) => {
    expect(shareScale(values).domain).toEqual(domain);
  });
});
