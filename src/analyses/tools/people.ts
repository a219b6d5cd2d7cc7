import type { Foot } from '../../cohort/cohort.ts';
import type { LeftOut, TraceEntry } from '../finding.ts';

/** Anything that belongs to one episode of one infant: a foot, a step-down. */
export interface OfOneFoot {
  readonly episode: string;
  readonly infant: string;
}

export function countInfants(items: readonly OfOneFoot[]): number {
  return new Set(items.map(item => item.infant)).size;
}

export function episodesOf(items: readonly OfOneFoot[]): readonly string[] {
  return [...new Set(items.map(item => item.episode))].sort();
}

/** Whom a question can use, and whom not and why. */
export interface Population<T extends OfOneFoot> {
  readonly used: readonly T[];
  readonly leftOut: readonly LeftOut[];
  readonly trace: Readonly<Record<string, TraceEntry>>;
}

/**
 * Splits items into those used and those left out; `reasonAgainst` names why an item cannot be used, or nothing.
 * Reasons stand in the order in which they first occur.
 */
export function population<T extends OfOneFoot>(
  items: readonly T[],
  reasonAgainst: (item: T) => string | undefined,
): Population<T> {
  const used: T[] = [];
  const against = new Map<string, T[]>();
  for (const item of items) {
    const reason = reasonAgainst(item);
    if (reason === undefined) used.push(item);
    else against.set(reason, [...(against.get(reason) ?? []), item]);
  }
  const leftOut = [...against].map(([reason, out]) => ({
    reason,
    feet: episodesOf(out).length,
    infants: countInfants(out),
  }));
  const trace: Record<string, TraceEntry> = { analysed: analysed(used, [...against.keys()]) };
  for (const [reason, out] of against)
    trace[`leftOut.${reason}`] = { rule: reason, episodes: episodesOf(out) };
  return { used, leftOut, trace };
}

/** The feet that a finding analyses. */
export function analysed(items: readonly OfOneFoot[], reasons: readonly string[] = []): TraceEntry {
  const rule = reasons.length === 0 ? 'accepted episode' : `accepted episode, not: ${reasons.join('; ')}`;
  return { rule, episodes: episodesOf(items) };
}

/** Why a foot has no place in what is reported by band. */
export function reasonNotBanded(foot: Foot): string | undefined {
  if (foot.band === 'straight') return 'straight at baseline';
  if (foot.band === 'not known')
    return `severity band not known (${foot.bandMissing.join(' and ')} not recorded)`;
  return undefined;
}

/** Items by group, in the order of the groups given; groups without items are left out. */
export function byGroup<T, G extends string>(
  items: readonly T[],
  groups: readonly G[],
  groupOf: (item: T) => string,
): readonly { readonly group: G; readonly items: readonly T[] }[] {
  return groups
    .map(group => ({ group, items: items.filter(item => groupOf(item) === group) }))
    .filter(part => part.items.length > 0);
}
