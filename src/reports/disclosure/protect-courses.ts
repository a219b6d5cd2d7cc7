import type { Count, Curve, Finding } from '../../analyses/finding.ts';
import type { MeanCountCurve } from '../../analyses/mean-count-curve.ts';
import type { OccupancyShares } from '../../analyses/occupancy-shares.ts';
import { isHidden, WITHHELD } from '../../wording/hidden-count.ts';
import { type Hiding, shownCount } from './hiding.ts';
import type { DisclosurePolicy } from './policy.ts';

/** Curves with coarse steps and the counts under their axes by name; those that may not be shown are left out. */
export function protectCurves(finding: Finding, hiding: Hiding): readonly Curve[] {
  return finding.curves.flatMap(({ key, riskTable, n, infants }): readonly Curve[] => {
    const coarse = hiding.curves.get(key)?.curve;
    if (coarse === undefined || coarse.time.length === 0) return [];
    const at = (part: string): string => `${finding.key}/curve/${key}/${part}`;
    const row = (name: Exclude<keyof Curve['riskTable'], 'time'>): readonly Count[] =>
      riskTable[name].map((count, k) => shownCount(hiding, at(`${name}.${k}`), count));
    const size = shownCount(hiding, at('n'), n);
    if (isHidden(size)) return [];
    return [
      {
        ...coarse,
        riskTable: {
          time: riskTable.time,
          atRisk: row('atRisk'),
          events: row('events'),
          censored: row('censored'),
          competing: row('competing'),
        },
        n: size,
        infants: shownCount(hiding, at('infants'), infants),
      },
    ];
  });
}

/**
 * Mean counts at times between which at least `below` events lie for certain: a step of the mean is worth at most one
 * event for each foot still observed, so that its height times the fewest observed is the least number of events.
 */
export function protectMeanCounts(finding: Finding, hiding: Hiding): readonly MeanCountCurve[] {
  const { policy } = hiding;
  return (finding.meanCounts ?? []).flatMap((curve): readonly MeanCountCurve[] => {
    const at = (part: string): string => `${finding.key}/mean count/${curve.key}/${part}`;
    const [n, events] = [
      shownCount(hiding, at('n'), curve.n),
      shownCount(hiding, at('events'), curve.events),
    ];
    if (isHidden(n) || isHidden(events)) return [];
    const places = coarsePlaces(curve, policy);
    const pick = <T>(values: readonly T[]): T[] => places.map(place => values[place] as T);
    return [
      {
        ...curve,
        time: pick(curve.time),
        mean: pick(curve.mean),
        standardError: pick(curve.standardError),
        lower: pick(curve.lower),
        upper: pick(curve.upper),
        atRisk: thinned(pick(curve.atRisk), policy),
        n,
        infants: shownCount(hiding, at('infants'), curve.infants),
        events,
      },
    ];
  });
}

function coarsePlaces(
  { mean, atRisk }: MeanCountCurve,
  { below, atRisk: enough }: DisclosurePolicy,
): readonly number[] {
  const places: number[] = [];
  let height = 0;
  for (const [place, here] of mean.entries()) {
    const observed = atRisk[place];
    if (typeof observed !== 'number' || observed < enough) break;
    if (here === height ? places.length === 0 : (here - height) * observed >= below) {
      places.push(place);
      height = here;
    }
  }
  return places;
}

/** Counts of which each differs from the last one shown by nothing or by enough. */
function thinned(counts: readonly Count[], { below }: DisclosurePolicy): readonly Count[] {
  let shown: number | undefined;
  return counts.map(count => {
    if (typeof count !== 'number') return count;
    const apart = shown === undefined ? count : Math.abs(count - shown);
    if ((apart > 0 && apart < below) || (count > 0 && count < below)) return WITHHELD;
    shown = count;
    return count;
  });
}

/**
 * Shares rounded to steps of `below` feet, so that no single foot is seen to move: the running sums over the states are
 * rounded, which keeps every week at 1. Limits and standard errors, which would give the share
 * back, are rounded outwards. Weeks end where too few are followed.
 */
export function protectOccupancy(finding: Finding, hiding: Hiding): readonly OccupancyShares[] {
  return (finding.occupancy ?? []).flatMap((shares): readonly OccupancyShares[] => {
    const at = (part: string): string => `${finding.key}/occupancy/${shares.key}/${part}`;
    const n = shownCount(hiding, at('n'), shares.n);
    if (isHidden(n)) return [];
    const { below } = hiding.policy;
    const step = below / n;
    const weeks = shares.week.length;
    const rounded = shares.states.map(() => Array.from({ length: weeks }, () => 0));
    for (let w = 0; w < weeks; w++) {
      let sum = 0;
      let before = 0;
      for (const [s, share] of shares.share.entries()) {
        sum += share[w] ?? 0;
        const upTo = s === shares.share.length - 1 ? 1 : Math.min(Math.round(sum / step) * step, 1);
        const row = rounded[s];
        if (row !== undefined) row[w] = Math.max(upTo - before, 0);
        before = upTo;
      }
    }
    const outwards = (limits: OccupancyShares['lower'], round: (x: number) => number) =>
      limits.map(state =>
        state.map(limit => (limit === undefined ? limit : Math.min(round(limit / step) * step, 1))),
      );
    return [
      {
        ...shares,
        share: rounded,
        standardError: shares.standardError.map(state => state.map(error => Math.ceil(error / step) * step)),
        lower: outwards(shares.lower, Math.floor),
        upper: outwards(shares.upper, Math.ceil),
        inTherapy: thinned(shares.inTherapy, hiding.policy),
        n,
        infants: shownCount(hiding, at('infants'), shares.infants),
      },
    ];
  });
}
