import type { Plan } from '../../plan/plan.ts';
import { funnelLimits, funnelLimitsAt } from '../../statistics/control-charts/index.ts';
import type { FunnelUnit, UnitFunnel } from '../unit-funnel.ts';
import { countLimits } from './count-limits.ts';
import { type AuditItem, counts, type Standard } from './standard.ts';

/** Tail probabilities of the limits at about two and three standard errors. */
const TAILS = { inner: 0.025, outer: 0.001 } as const;
/** Sizes at which the limits are worked out for drawing, at most. */
const DRAWN_SIZES = 60;

interface Group {
  readonly code: string;
  readonly site?: string;
  readonly count: number;
  readonly n: number;
}

/**
 * Sites and clinicians on one standard, against exact binomial limits round the share of all together (or the target).
 * A clinician needs the plan's minimum of feet; a site stands alone whatever its size.
 *
 * @param items what came under the standard in the period
 * @returns undefined with fewer than two sites or clinicians, or where the centre is 0 or 1, which has no limits
 */
export function unitFunnel(
  standard: Standard,
  items: readonly AuditItem[],
  plan: Plan,
): UnitFunnel | undefined {
  const overall = items.filter(item => counts(standard, item)).length / items.length;
  const centreIs = plan.audit.funnelCentre;
  const centre = centreIs === 'target' ? standard.target : overall;
  if (!(centre > 0 && centre < 1)) return undefined;
  const sites = groupsOf(standard, items, item => item.site, 0);
  const clinicians = groupsOf(standard, items, item => item.clinician, plan.disclosure.clinicianMinimum).map(
    group => {
      const at = new Set(items.flatMap(({ clinician, site }) => (clinician === group.code ? [site] : [])));
      const [site] = at;
      return at.size === 1 && site !== undefined ? { ...group, site } : group;
    },
  );
  if (sites.length + clinicians.length < 2) return undefined;
  const units = [
    ...sites.map(group => unitOf('site', group, centre)),
    ...clinicians.map(group => unitOf('clinician', group, centre)),
  ];
  const ofSites = dispersionOf(sites, centre);
  const ofClinicians = dispersionOf(clinicians, centre);
  return {
    key: standard.key,
    title: standard.title,
    direction: standard.direction,
    centre,
    centreIs,
    units,
    limits: drawnSizes(Math.max(...units.map(({ n }) => n))).map(n => ({
      n,
      inner: funnelLimitsAt(centre, n, 'proportion', TAILS.inner),
      outer: funnelLimitsAt(centre, n, 'proportion', TAILS.outer),
    })),
    dispersion: {
      ...(ofSites === undefined ? {} : { site: ofSites }),
      ...(ofClinicians === undefined ? {} : { clinician: ofClinicians }),
    },
  };
}

/** Items by code, the largest group first, by code where equal; items without a code are passed over. */
function groupsOf(
  standard: Standard,
  items: readonly AuditItem[],
  codeOf: (item: AuditItem) => string | undefined,
  leastFeet: number,
): readonly Group[] {
  const groups = new Map<string, AuditItem[]>();
  for (const item of items) {
    const code = codeOf(item);
    if (code === undefined) continue;
    const held = groups.get(code);
    if (held === undefined) groups.set(code, [item]);
    else held.push(item);
  }
  return [...groups]
    .filter(([, own]) => new Set(own.map(({ episode }) => episode)).size >= leastFeet)
    .map(([code, own]) => ({
      code,
      count: own.filter(item => counts(standard, item)).length,
      n: own.length,
    }))
    .sort((a, b) => b.n - a.n || (a.code < b.code ? -1 : 1));
}

function dispersionOf(groups: readonly Group[], centre: number): number | undefined {
  if (groups.length < 2) return undefined;
  const data = { events: groups.map(({ count }) => count), n: groups.map(({ n }) => n) };
  return funnelLimits(data, { target: centre }).dispersion;
}

function unitOf(kind: FunnelUnit['kind'], group: Group, centre: number): FunnelUnit {
  const { count, n } = group;
  const inner = countLimits(n, centre, TAILS.inner);
  const outer = countLimits(n, centre, TAILS.outer);
  const within = (limits: { readonly lower: number; readonly upper: number }): boolean =>
    count >= limits.lower && count <= limits.upper;
  const side = count / n > centre ? 'above' : 'below';
  return {
    kind,
    ...group,
    value: count / n,
    inner: { lower: inner.lower / n, upper: inner.upper / n },
    outer: { lower: outer.lower / n, upper: outer.upper / n },
    ...(within(inner) ? {} : { beyond: { limit: within(outer) ? '95 %' : '99.8 %', side } }),
  };
}

function drawnSizes(largest: number): readonly number[] {
  const last = Math.ceil(largest * 1.08);
  const step = Math.max(1, Math.ceil(last / DRAWN_SIZES));
  const sizes: number[] = [];
  for (let n = 1; n < last; n += step) sizes.push(n);
  return [...sizes, last];
}
