import { describe, expect, it } from 'vitest';
import type { Curve } from '../../src/analyses/finding.ts';
import { curveFamilies } from '../../src/figures/curve-families.ts';
import { type CurveFigureOptions, curveFigure } from '../../src/figures/curve-figure.ts';
import { FIGURE_WIDTHS, type FigureWidth } from '../../src/figures/figure.ts';
import { SEVERITY_MARKS } from '../../src/figures/palette.ts';
import { renderSvg } from '../../src/figures/render-svg.ts';
import { textWidth } from '../../src/figures/text-width.ts';
import { deepFreeze, fixtureFinding } from '../reports/fixtures/load.ts';
import { type DrawnElement, drawnTexts, parseSvg, pathReach, placeOf } from './svg.ts';

const options: CurveFigureOptions = {
  key: 'correction',
  timeTitle: 'Weeks since first fitting',
  unit: 'feet',
  level: 0.95,
};
const correction = fixtureFinding('time-to-correction').curves;
const relapse = fixtureFinding('relapse-after-step-down').curves;
const adherence = fixtureFinding('adherence').curves;
const WIDTHS: readonly FigureWidth[] = ['page', 'narrow'];

/** Three curves that end within a hair of each other. */
function closeCurves(): readonly Curve[] {
  return deepFreeze(
    correction.map((curve, i) => ({
      ...curve,
      time: [0, 4, 12],
      estimate: [0, 0.5, 0.8 + i * 0.001],
      lower: [undefined, 0.4, 0.7],
      upper: [undefined, 0.6, 0.9],
    })),
  );
}

describe.each(WIDTHS)('a figure of curves, %s', width => {
  it('sets every column of the risk table under its tick, to half a pixel', async () => {
    for (const curves of [correction, relapse]) {
      const svg = await renderSvg(curveFigure(curves, options), width);
      const texts = drawnTexts(svg);
      const rows = texts.filter(({ text }) => text === 'At risk').map(({ y }) => y);
      expect(rows).toHaveLength(curves.length);
      const axis = ticksOf(svg);
      const ticks = drawnTicks(curves, svg);
      expect(ticks[0]).toBe(0);
      expect(ticks.length).toBeGreaterThanOrEqual(width === 'page' ? 5 : 4);
      for (const [g, curve] of curves.entries()) {
        const row = texts.filter(({ y, text }) => y === rows[g] && text !== 'At risk');
        expect(row.map(({ text }) => text)).toEqual(countsAt(curve, 'atRisk', ticks).map(String));
        for (const [k, cell] of row.entries()) {
          const tick = axis.find(({ label }) => label === String(ticks[k]));
          expect(Math.abs(cell.x - (tick?.x ?? Number.NaN))).toBeLessThan(0.55);
          expect(Math.abs(cell.x - (tick?.labelX ?? Number.NaN))).toBeLessThan(0.55);
        }
      }
    }
  });

  it('prints the counts of the finding, row by row', async () => {
    const svg = await renderSvg(curveFigure(correction, options), width);
    const texts = drawnTexts(svg);
    const ticks = drawnTicks(correction, svg);
    const kinds = [
      ['Events', 'events'],
      ['Other ends', 'competing'],
      ['Censored', 'censored'],
    ] as const;
    for (const [label, kind] of kinds) {
      const rows = texts.filter(({ text }) => text === label);
      for (const [g, curve] of correction.entries()) {
        const row = texts.filter(({ y, text }) => y === rows[g]?.y && text !== label);
        expect(row.map(({ text }) => Number(text))).toEqual(countsAt(curve, kind, ticks));
      }
    }
  });

  it('has no row of other ends where there are none', async () => {
    const lapse = curveFamilies(adherence)[0]?.curves ?? [];
    const texts = drawnTexts(await renderSvg(curveFigure(lapse, options), width)).map(({ text }) => text);
    expect(texts).toContain('Censored');
    expect(texts).not.toContain('Other ends');
  });

  it('keeps the labels of close curves apart and inside the drawing', async () => {
    const svg = await renderSvg(curveFigure(closeCurves(), options), width);
    const labels = drawnTexts(svg)
      .filter(({ text, weight }) => ['Mild', 'Moderate', 'Severe'].includes(text) && weight === 'bold')
      .slice(0, 3)
      .sort((a, b) => a.y - b.y);
    expect(labels.map(({ text }) => text)).toEqual(['Severe', 'Moderate', 'Mild']);
    const gaps = labels.slice(1).map((label, i) => label.y - (labels[i]?.y ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(labels[0]?.size ?? 0);
    for (const label of labels) {
      expect(label.x + textWidth(label.text, label.size, 'bold')).toBeLessThanOrEqual(FIGURE_WIDTHS[width]);
    }
  });

  it('draws nothing outside the drawing, and no two texts of a row into each other', async () => {
    for (const curves of [correction, relapse]) {
      const svg = await renderSvg(curveFigure(curves, options), width);
      const box = (parseSvg(svg).documentElement.getAttribute('viewBox') ?? '').split(' ').map(Number);
      expect(box[2]).toBe(FIGURE_WIDTHS[width]);
      for (const text of drawnTexts(svg)) {
        expect(text.x).toBeGreaterThanOrEqual(0);
        expect(text.y).toBeLessThan(box[3] ?? 0);
      }
      const texts = drawnTexts(svg);
      for (const { y } of texts.filter(({ text }) => text === 'At risk')) {
        const cells = texts.filter(text => text.y === y && text.text !== 'At risk').sort((a, b) => a.x - b.x);
        for (const [i, cell] of cells.entries()) {
          const next = cells[i + 1];
          if (next === undefined) continue;
          const half = (textWidth(cell.text, cell.size) + textWidth(next.text, next.size)) / 2;
          expect(next.x - cell.x).toBeGreaterThan(half);
        }
      }
    }
  });

  it('carries each band in steps to the last follow-up of its group', async () => {
    const svg = await renderSvg(curveFigure(correction, options), width);
    const paths = [...parseSvg(svg).querySelectorAll('path')];
    for (const [g, band] of (['mild', 'moderate', 'severe'] as const).entries()) {
      const { colour } = SEVERITY_MARKS[band];
      const line = paths.find(path => path.getAttribute('stroke') === colour);
      const bands = paths.filter(path => path.getAttribute('fill') === colour);
      expect(line).toBeDefined();
      if (line === undefined) continue;
      const end = Math.max(...bands.map(path => pathReach(path).right));
      expect(end).toBeCloseTo(pathReach(line).right, 1);
      expect(correction[g]?.group).toBe(band);
      // Steps only: between two neighbouring points either the time or the height stays.
      for (const path of [line, ...bands]) expect(slopedParts(path)).toBe(0);
    }
  });

  it('is the same text twice', async () => {
    const first = await renderSvg(curveFigure(correction, options), width);
    expect(await renderSvg(curveFigure(correction, options), width)).toBe(first);
  });

  it('looks as it did', async () => {
    const svg = await renderSvg(curveFigure(closeCurves(), options), width);
    await expect(svg.replaceAll('><', '>\n<')).toMatchFileSnapshot(`snapshots/close-curves-${width}.svg`);
  });
});

describe('the words of a figure', () => {
  it('state the finding in the title and say it again for those who cannot see', async () => {
    const figure = curveFigure(correction, options);
    expect(figure.title).toBe(
      'Feet corrected by week 6: mild 65\u202F%, moderate 37\u202F% and severe 11\u202F%',
    );
    expect(figure.subtitle).toBe('Feet corrected, %, with pointwise 95\u202F% intervals');
    expect(figure.description).toContain('Severe (64 feet of 34 infants)');
    const svg = parseSvg(await renderSvg(figure, 'page')).documentElement;
    expect(svg.getAttribute('role')).toBe('img');
    const title = svg.querySelector('title');
    const text = svg.querySelector('desc');
    expect(title?.textContent).toBe(figure.title);
    expect(text?.textContent).toBe(figure.description);
    expect(svg.getAttribute('aria-labelledby')).toBe(title?.getAttribute('id'));
    expect(svg.getAttribute('aria-describedby')).toBe(text?.getAttribute('id'));
    expect(svg.querySelectorAll('[role]')).toHaveLength(0);
  });

  it('keep markup in a group name as text', async () => {
    const hostile = [{ ...(correction[0] as Curve), group: '</text><script>alert(1)</script>' }];
    const svg = await renderSvg(curveFigure(hostile, { ...options, title: '<b>&"' }), 'page');
    expect(parseSvg(svg).querySelector('script')).toBeNull();
    expect(svg).not.toContain('<script');
    expect(parseSvg(svg).querySelector('title')?.textContent).toBe('<b>&"');
  });

  it('say when there are too few to quote', () => {
    const empty = correction.map(curve => ({
      ...curve,
      riskTable: { ...curve.riskTable, atRisk: curve.riskTable.atRisk.map((n, i) => (i === 0 ? n : 0)) },
    }));
    expect(curveFigure(empty, options).title).toBe('Feet corrected: too few to say');
  });
});

describe('the ticks of a figure', () => {
  it('are all those of the risk table where there is room', async () => {
    const svg = await renderSvg(curveFigure(correction, options), 'page');
    expect(drawnTicks(correction, svg)).toEqual([0, 2, 6, 9, 12, 16]);
    expect(ticksOf(svg).map(({ label }) => label)).toEqual(['0', '2', '6', '9', '12', '16', '20']);
  });

  it('are left out of axis and table alike where their counts would touch', async () => {
    const long = correction.map(curve => ({
      ...curve,
      time: [...curve.time, 80],
      estimate: [...curve.estimate, 0.9],
    }));
    const svg = await renderSvg(curveFigure(long, options), 'narrow');
    const ticks = drawnTicks(long, svg);
    expect(ticks).not.toContain(2);
    const texts = drawnTexts(svg);
    const y = texts.find(({ text }) => text === 'At risk')?.y;
    const row = texts.filter(text => text.y === y && text.text !== 'At risk');
    expect(row.map(({ text }) => Number(text))).toEqual(countsAt(long[0] as Curve, 'atRisk', ticks));
  });
});

describe('limits that are not available', () => {
  it('leave a gap in the band and none in the curve', async () => {
    const gap: Curve = {
      ...(correction[2] as Curve),
      time: [0, 2, 4, 6, 8],
      estimate: [0, 0.2, 0.4, 0.6, 0.8],
      lower: [undefined, 0.1, undefined, 0.5, 0.7],
      upper: [undefined, 0.3, undefined, 0.7, 0.9],
    };
    const svg = parseSvg(await renderSvg(curveFigure([gap], options), 'page'));
    const { colour } = SEVERITY_MARKS.severe;
    const paths = [...svg.querySelectorAll('path')];
    const bands = paths.filter(path => path.getAttribute('fill') === colour).map(pathReach);
    const line = pathReach(paths.find(path => path.getAttribute('stroke') === colour) as DrawnElement);
    expect(bands).toHaveLength(2);
    // The first runs from week 2 to week 4, where the limits end; the second from week 6 to the last follow-up.
    expect((bands[0]?.right ?? 0) - (bands[0]?.left ?? 0)).toBeCloseTo(
      (bands[1]?.right ?? 0) - (bands[1]?.left ?? 0),
      1,
    );
    expect(bands[1]?.left).toBeGreaterThan((bands[0]?.right ?? 0) + 10);
    expect(bands[1]?.right).toBeCloseTo(line.right, 1);
  });
});

describe('a group followed for less than the others', () => {
  it('has no counts under the later ticks', async () => {
    const [short, ...others] = correction;
    const { riskTable } = short as Curve;
    const first = <T>(values: readonly T[]): readonly T[] => values.slice(0, 3);
    const shorter: Curve = {
      ...(short as Curve),
      riskTable: {
        time: first(riskTable.time),
        atRisk: first(riskTable.atRisk),
        events: first(riskTable.events),
        censored: first(riskTable.censored),
        competing: first(riskTable.competing),
      },
    };
    const texts = drawnTexts(await renderSvg(curveFigure([shorter, ...others], options), 'page'));
    const [row] = texts.filter(({ text }) => text === 'At risk');
    const cells = texts
      .filter(({ y, text }) => y === row?.y && text !== 'At risk')
      .map(({ text }) => Number(text));
    expect(cells).toEqual(first(riskTable.atRisk));
  });
});

describe('what a figure refuses', () => {
  it('none or more than four curves', () => {
    expect(() => curveFigure([], options)).toThrow('figure correction has 0 curves; 1 to 4 are allowed');
    expect(() => curveFigure([...correction, ...relapse], options)).toThrow('has 6 curves');
  });

  it('risk tables with different ticks', () => {
    expect(() => curveFigure([...correction.slice(0, 1), ...relapse.slice(0, 1)], options)).toThrow(
      'the risk table of 24 to 15 has ticks of its own',
    );
  });
});

describe('families of curves', () => {
  it('are told by measure and by the key before its last point', () => {
    expect(curveFamilies(adherence).map(({ key, curves }) => [key, curves.length])).toEqual([
      ['lapse', 3],
      ['discontinuation', 1],
    ]);
  });

  it('of more than four are drawn as several', () => {
    const six = Array.from({ length: 6 }, (_, i) => ({ ...(correction[0] as Curve), key: `site.${i}` }));
    expect(curveFamilies(six).map(({ key, curves }) => [key, curves.length])).toEqual([
      ['site.1', 4],
      ['site.2', 2],
    ]);
  });
});

/** The ticks of the risk tables that the axis of a drawing has: all of them where they fit. */
function drawnTicks(curves: readonly Curve[], svg: string): readonly number[] {
  const labels = new Set(ticksOf(svg).map(({ label }) => label));
  return (curves[0]?.riskTable.time ?? []).filter(tick => labels.has(String(tick)));
}

function countsAt(
  { riskTable }: Curve,
  kind: 'atRisk' | 'events' | 'competing' | 'censored',
  ticks: readonly number[],
): readonly number[] {
  return ticks.map(tick => Number(riskTable[kind][riskTable.time.indexOf(tick)] ?? Number.NaN));
}

/** The ticks of the horizontal axis: the place of each line and of the label below it. */
function ticksOf(
  svg: string,
): readonly { readonly label: string; readonly x: number; readonly labelX: number }[] {
  const document = parseSvg(svg);
  const lines = [...document.querySelectorAll('line')].filter(
    line => line.getAttribute('x2') === '0' && line.getAttribute('y2') === '5',
  );
  const axis = lines[0]?.parentElement?.parentElement;
  const labels = [...(axis?.querySelectorAll('text') ?? [])];
  return lines.map((line, i) => {
    const label = labels[i];
    return {
      label: label?.textContent ?? '',
      x: placeOf(line).x,
      labelX: label === undefined ? Number.NaN : placeOf(label).x,
    };
  });
}

/** How many parts of a path are neither level nor upright. */
function slopedParts(path: DrawnElement): number {
  let count = 0;
  let at: readonly [number, number] | undefined;
  for (const [, command, x, y] of (path.getAttribute('d') ?? '').matchAll(/([ML])(-?[\d.]+),(-?[\d.]+)/g)) {
    const next = [Number(x), Number(y)] as const;
    if (command === 'L' && at !== undefined && at[0] !== next[0] && at[1] !== next[1]) count++;
    at = next;
  }
  return count;
}

describe('a drawing', () => {
  it('is refused where the drawing library would only warn', async () => {
    const figure = curveFigure(correction, options);
    const log = {
      data: { values: [{ a: 1 }] },
      mark: 'point',
      encoding: { x: { field: 'a', type: 'quantitative', scale: { type: 'log', zero: true } } },
    } as const;
    await expect(renderSvg({ ...figure, specs: { page: log, narrow: log } }, 'page')).rejects.toThrow(
      'the figure cannot be drawn as asked',
    );
  });
});
