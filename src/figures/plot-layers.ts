import type { Plot, PlotSeries } from '../analyses/plots.ts';
import type { ChartLayer } from './chart-frame.ts';
import type { ForestAxis } from './forest-axis.ts';
import { type LineMark, QUIET_INK } from './palette.ts';

/** What the series would follow if the model held: a level or the diagonal, dashed and quiet. */
export function referenceLayers(
  plot: Plot,
  { x, y }: { readonly x: ForestAxis; readonly y: ForestAxis },
): readonly ChartLayer[] {
  return plot.references.map((reference, i): ChartLayer => {
    const from = Math.max(x.domain[0], y.domain[0]);
    const to = Math.min(x.domain[1], y.domain[1]);
    const values =
      reference.kind === 'level'
        ? x.domain.map(end => ({ x: end, y: reference.y }))
        : [from, to].map(end => ({ x: end, y: end }));
    return {
      name: `reference ${i + 1}`,
      data: { values },
      mark: { type: 'line', color: QUIET_INK, strokeWidth: 1.25, strokeDash: [2, 3] },
      encoding: {
        x: { field: 'x', type: 'quantitative' },
        y: { field: 'y', type: 'quantitative' },
      },
    };
  });
}

/** The band of limits, where there are any, and the marks of one series. */
export function seriesLayers(series: PlotSeries, mark: LineMark): readonly ChartLayer[] {
  const values = series.x.map((x, i) => ({ x, y: series.y[i] ?? 0 }));
  const encoding = {
    x: { field: 'x', type: 'quantitative' },
    y: { field: 'y', type: 'quantitative' },
  } as const;
  if (series.shape === 'points') {
    return [
      {
        name: series.key,
        data: { values },
        mark: { type: 'point', filled: true, color: mark.colour, opacity: 1, size: 36 },
        encoding,
      },
    ];
  }
  const interpolate = series.shape === 'steps' ? 'step-after' : 'linear';
  const band = series.x.flatMap((x, i) => {
    const lower = series.lower?.[i];
    const upper = series.upper?.[i];
    return lower === undefined || upper === undefined ? [] : [{ x, lower, upper }];
  });
  const limits: readonly ChartLayer[] =
    band.length === 0
      ? []
      : [
          {
            name: `limits of ${series.key}`,
            data: { values: band },
            mark: { type: 'area', interpolate, color: mark.colour, opacity: 0.12 },
            encoding: {
              x: { field: 'x', type: 'quantitative' },
              y: { field: 'lower', type: 'quantitative' },
              y2: { field: 'upper' },
            },
          },
        ];
  return [
    ...limits,
    {
      name: series.key,
      data: { values },
      mark: {
        type: 'line',
        interpolate,
        color: mark.colour,
        strokeWidth: mark.width,
        ...(mark.dash.length > 0 ? { strokeDash: [...mark.dash] } : {}),
      },
      encoding,
    },
  ];
}

/** A thin line from the end of a group's series to its label at the right of the plot. */
export function leaderLayer(
  group: string,
  mark: LineMark,
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): ChartLayer {
  return {
    name: `leader of ${group}`,
    data: { values: [{}] },
    mark: { type: 'rule', color: mark.colour, strokeWidth: 0.75 },
    encoding: {
      x: { value: from.x },
      y: { value: from.y },
      x2: { value: to.x },
      y2: { value: to.y },
    },
  };
}
