import type { Count, Curve, Finding } from '../../analyses/finding.ts';
import type { Plot, PlotSeries } from '../../analyses/plots.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import type { Hiding } from './hiding.ts';

/**
 * Plots without what stands for single feet: points that are not the mean of at least `below` feet, and step functions,
 * whose steps are single events. A series that shows a curve of the finding again shows no more than that curve does;
 * beside it, shares are rounded to steps of `below` feet. Fitted lines stay.
 *
 * @param curves those of the finding as they may be published
 */
export function protectPlots(finding: Finding, curves: readonly Curve[], hiding: Hiding): readonly Plot[] {
  const { below } = hiding.policy;
  return (finding.plots ?? []).flatMap((plot): readonly Plot[] => {
    const { n, infants } = plot;
    const few = (count: Count): boolean => isHidden(count) || count < below;
    if (few(n) || few(infants)) return [];
    const again = plot.series.find(({ curve }) => curve !== undefined);
    const shown = curves.find(({ key }) => key === again?.curve);
    if (again !== undefined && shown === undefined) return [];
    const series = plot.series.flatMap(one => {
      if (one.shape === 'line') return [one];
      if (one.feet !== undefined) return [pointsOfEnough(one, one.feet, below)];
      if (shown === undefined) return [];
      return [one.curve === undefined ? roundedShares(one, shown, below / Number(n)) : asCurve(one, shown)];
    });
    return series.every(({ x }) => x.length === 0) ? [] : [{ ...plot, series }];
  });
}

function pointsOfEnough(series: PlotSeries, feet: readonly number[], below: number): PlotSeries {
  const { feet: _, ...rest } = series;
  return at(
    rest,
    [...series.x.keys()].filter(place => (feet[place] ?? 0) >= below),
  );
}

/** The curve in the place of the series, from 0 on. */
function asCurve(series: PlotSeries, { time, estimate, lower, upper, direction }: Curve): PlotSeries {
  const turned = (values: readonly (number | undefined)[]) =>
    direction === 'falls' ? values.map(value => (value === undefined ? value : 1 - value)) : values;
  const [low, high] = direction === 'falls' ? [upper, lower] : [lower, upper];
  const start = time[0] === 0 ? [] : [0];
  return {
    ...series,
    x: [...start, ...time],
    y: [...start, ...estimate.map(value => (direction === 'falls' ? 1 - value : value))],
    lower: [...start, ...turned(low)],
    upper: [...start, ...turned(high)],
  };
}

/** Shares rounded to whole steps, limits outwards, and only where the rounded one moves, as far as the curve goes. */
function roundedShares(series: PlotSeries, curve: Curve, step: number): PlotSeries {
  const rounded = (round: (x: number) => number) => (share: number | undefined) =>
    share === undefined ? share : Math.min(1, Math.max(0, round(share / step) * step));
  const end = curve.time.at(-1) ?? 0;
  const lower = series.lower?.map(rounded(Math.floor));
  const upper = series.upper?.map(rounded(Math.ceil));
  const y = series.y.map(share => Math.min(1, Math.floor(share / step) * step));
  const places = [...series.x.keys()].filter(
    place =>
      (series.x[place] ?? 0) <= end &&
      (place === 0 ||
        y[place] !== y[place - 1] ||
        lower?.[place] !== lower?.[place - 1] ||
        upper?.[place] !== upper?.[place - 1]),
  );
  return at(
    { ...series, y, ...(lower === undefined ? {} : { lower }), ...(upper === undefined ? {} : { upper }) },
    places,
  );
}

function at(series: PlotSeries, places: readonly number[]): PlotSeries {
  const pick = <T>(values: readonly T[]): T[] => places.map(place => values[place] as T);
  const { lower, upper } = series;
  return {
    ...series,
    x: pick(series.x),
    y: pick(series.y),
    ...(lower === undefined ? {} : { lower: pick(lower) }),
    ...(upper === undefined ? {} : { upper: pick(upper) }),
  };
}
