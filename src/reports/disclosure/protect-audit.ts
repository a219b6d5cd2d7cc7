import type { Finding } from '../../analyses/finding.ts';
import type { QuarterChart } from '../../analyses/quarter-chart.ts';
import type { StandardResult } from '../../analyses/standard-result.ts';
import type { FunnelUnit, UnitFunnel } from '../../analyses/unit-funnel.ts';
import { type DisclosurePolicy, isSmall } from './policy.ts';

/** The parts of an audit that are drawn: standards, charts over the quarters, and funnels. */
export type AuditParts = Pick<Finding, 'standards' | 'quarterCharts' | 'funnels'>;

/** Whether the count at a place is not hidden. */
type IsTold = (path: string) => boolean;

/** Whether a count of n, and what is left of n, may both be told. */
function isOpen(count: number, n: number, policy: DisclosurePolicy): boolean {
  return !isSmall(count, policy) && !isSmall(n - count, policy) && !isSmall(n, policy);
}

/**
 * Standards that rest on counts that may be told; the others stand in the table alone, under their names. What
 * changed stands in the table too, where the quarter before may be told.
 */
export function protectStandards(
  finding: string,
  standards: readonly StandardResult[],
  policy: DisclosurePolicy,
  isTold: IsTold,
): readonly StandardResult[] {
  return standards
    .filter(
      ({ key, count, n, infants }) =>
        isOpen(count, n, policy) &&
        !isSmall(infants, policy) &&
        ['count', 'n', 'infants'].every(field => isTold(`${finding}/standard/${key}/${field}`)),
    )
    .map(standard => {
      const { change: _, ...rest } = standard;
      return rest;
    });
}

/**
 * Charts without the points that rest on small counts. With one point alone left out, its count would follow from the
 * centre, which is made of all: then the point with the smallest count beside it goes as well. Where points are left out
 * the centre is rounded so far that what it is made of could be several counts, for two audits in turn would give the
 * quarter that one has and the other has not; limits of a rate are those of the rounded centre, and the median is that of
 * the points shown.
 *
 * @param least points that a chart needs
 */
export function protectCharts(
  finding: string,
  charts: readonly QuarterChart[],
  policy: DisclosurePolicy,
  isTold: IsTold,
  least = 1,
): readonly QuarterChart[] {
  return charts.flatMap((chart): readonly QuarterChart[] => {
    const open = chart.points.filter(({ place, count, size }) => {
      const at = `${finding}/chart/${chart.key}/${place}`;
      if (!isTold(`${at}/count`) || !isTold(`${at}/size`)) return false;
      return chart.kind === 'proportion' ? isOpen(count, size, policy) : !isSmall(count, policy);
    });
    const points = chart.points.length - open.length === 1 ? withoutSmallest(open) : open;
    if (points.length < least) return [];
    const places = new Set(points.map(({ place }) => place));
    return [
      {
        ...chart,
        ...(points.length < chart.points.length ? roundedChart(chart, points, policy) : { points }),
        signals: chart.signals.filter(({ place }) => places.has(place)),
        shifts: chart.shifts.filter(({ place }) => places.has(place)),
      },
    ];
  });
}

/** Steps of a centre, so that it reads well. */
const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5];

function roundedChart(
  chart: QuarterChart,
  points: QuarterChart['points'],
  { below }: DisclosurePolicy,
): Pick<QuarterChart, 'points' | 'centre' | 'median'> {
  const size = chart.points.reduce((sum, point) => sum + point.size, 0);
  const step = STEPS.find(width => width * size >= below) ?? Math.ceil(below / size);
  const centre = Number((Math.round(chart.centre / step) * step).toFixed(2));
  const values = points.map(({ value }) => value).sort((a, b) => a - b);
  const middle = values.length >> 1;
  const [upper = 0, lower = 0] = [values[middle], values[values.length % 2 === 1 ? middle : middle - 1]];
  return {
    centre,
    median: (lower + upper) / 2,
    points: chart.kind === 'proportion' ? points : points.map(point => withRateLimits(point, centre)),
  };
}

function withRateLimits(point: QuarterChart['points'][number], centre: number) {
  const width = 3 * Math.sqrt(centre / point.size);
  return { ...point, lower: Math.max(0, centre - width), upper: centre + width };
}

/** Funnels without the units that rest on small counts, or a second one where a single one could be worked out. */
export function protectFunnels(
  finding: string,
  funnels: readonly UnitFunnel[],
  policy: DisclosurePolicy,
  isTold: IsTold,
): readonly UnitFunnel[] {
  return funnels.flatMap((funnel): readonly UnitFunnel[] => {
    const units = (['site', 'clinician'] as const).flatMap((kind): readonly FunnelUnit[] => {
      const all = funnel.units.filter(unit => unit.kind === kind);
      const open = all.filter(({ code, count, n }) => {
        const at = `${finding}/funnel/${funnel.key}/${kind} ${code}`;
        return isOpen(count, n, policy) && isTold(`${at}/count`) && isTold(`${at}/n`);
      });
      return all.length - open.length === 1 ? withoutSmallest(open) : open;
    });
    const told = untold(units, policy).map(unit => {
      const { site: _, ...shown } = unit;
      return shown;
    });
    return told.length === 0 ? [] : [{ ...funnel, units: told }];
  });
}

/**
 * Without clinicians that, taken from their site, would leave a small number of the others there: the smallest goes
 * first, until what is left may be told.
 */
export function untold(units: readonly FunnelUnit[], policy: DisclosurePolicy): readonly FunnelUnit[] {
  let shown = units;
  for (const site of units.filter(({ kind }) => kind === 'site')) {
    for (;;) {
      const own = shown.filter(({ kind, site: at }) => kind === 'clinician' && at === site.code);
      const rest = (of: 'count' | 'n'): number => own.reduce((left, unit) => left - unit[of], site[of]);
      if (own.length === 0 || rest('n') <= 0 || isOpen(rest('count'), rest('n'), policy)) break;
      const open = new Set(withoutSmallest(own));
      shown = shown.filter(unit => !own.includes(unit) || open.has(unit));
    }
  }
  return shown;
}

function withoutSmallest<T extends { readonly count: number }>(of: readonly T[]): readonly T[] {
  const smallest = of.reduce<T | undefined>(
    (least, one) => (least === undefined || one.count < least.count ? one : least),
    undefined,
  );
  return of.filter(one => one !== smallest);
}

/** Changes on the quarter before that would give a hidden quarter back: those of which one side is hidden. */
export function hiddenChanges(
  finding: Finding,
  shown: AuditParts,
  charts: readonly QuarterChart[],
): ReadonlySet<number> {
  const open = new Set((shown.standards ?? []).map(({ key }) => key));
  const hidden = new Set<number>();
  for (const { key, change } of finding.standards ?? []) {
    if (change === undefined) continue;
    const chart = charts.find(one => one.key === key);
    const before = (chart?.quarters.length ?? 0) - 2;
    const known = chart?.points.some(({ place }) => place === before) === true;
    if (!open.has(key) || !known) hidden.add(change.estimate);
  }
  return hidden;
}
