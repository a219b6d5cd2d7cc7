import type { Finding } from '../../analyses/finding.ts';
import type { MeanCountCurve } from '../../analyses/mean-count-curve.ts';
import type { Plot, PlotSeries } from '../../analyses/plots.ts';
import { plotFigure } from '../../figures/index.ts';
import { formatDecimal, formatTick, listInWords } from '../../wording/format.ts';
import { type Count, isHidden } from '../../wording/hidden-count.ts';
import type { Block } from '../document.ts';

/**
 * The mean number of events a foot by week, up to the last week drawn, of some groups of a finding. Nothing where the
 * finding has none of them.
 *
 * @param groups at most four, in the order in which they are drawn
 */
export function meanCountFigure(
  finding: Finding,
  key: string,
  groups: readonly string[],
  {
    lastWeek,
    level,
    weekTicks,
  }: { readonly lastWeek: number; readonly level: number; readonly weekTicks: readonly number[] },
): readonly Block[] {
  const curves = groups.flatMap(
    group => finding.meanCounts?.filter(curve => curve.group === group && curve.time.length > 0) ?? [],
  );
  const [first] = curves;
  if (first === undefined) return [];
  const series = curves.map(curve => seriesUpTo(curve, lastWeek));
  const end = Math.max(...series.flatMap(({ x }) => x.slice(-1)));
  const heights = series.map(({ y }, i) => `${groupOf(curves[i])} ${formatDecimal(y.at(-1) ?? 0, 2)}`);
  const plot: Plot = {
    key,
    title: `${first.measure} by week ${formatTick(Math.round(end * 10) / 10)}: ${listInWords(heights)}`,
    x: { label: 'Weeks since first fitting', unit: 'weeks' },
    y: { label: first.measure },
    series,
    references: [],
    reading: 'A foot can have several; the curve is the mean number so far.',
    n: largest(curves.map(({ n }) => n)),
    infants: largest(curves.map(({ infants }) => infants)),
  };
  return [
    {
      kind: 'figure',
      figure: plotFigure(plot, { key: `${finding.key}.${key}`, level, xTicks: weekTicks }),
      caption: plot.reading,
    },
  ];
}

function groupOf(curve: MeanCountCurve | undefined): string {
  return curve?.group ?? '';
}

/** The steps up to a week, the last height carried to it if anyone was followed so far. */
function seriesUpTo(curve: MeanCountCurve, lastWeek: number): PlotSeries {
  const kept = curve.time.filter(time => time <= lastWeek).length;
  const carried = kept < curve.time.length && kept > 0 && curve.time[kept - 1] !== lastWeek;
  const cut = <T>(values: readonly T[]): readonly T[] => {
    const shown = values.slice(0, kept);
    return carried ? [...shown, ...shown.slice(-1)] : shown;
  };
  return {
    key: curve.key,
    label: 'mean number so far',
    group: curve.group,
    shape: 'steps',
    x: carried ? [...curve.time.slice(0, kept), lastWeek] : curve.time.slice(0, kept),
    y: cut(curve.mean),
    lower: cut(curve.lower),
    upper: cut(curve.upper),
  };
}

/** The largest of the counts that are told; a hidden one where none is. */
function largest(counts: readonly Count[]): Count {
  const told = counts.flatMap(count => (isHidden(count) ? [] : [count]));
  return told.length > 0 ? Math.max(...told) : (counts[0] ?? 0);
}
