import type { Plan } from '../../plan/plan.ts';
import { poolEstimates } from '../../statistics/missing-data/index.ts';
import type { Effect } from '../finding.ts';
import { adjustedDesign, type ModelColumn } from '../tools/adjustment.ts';
import { acceleratedOfDuration } from './accelerated-models.ts';
import type { DurationFollowUp } from './follow-up.ts';
import { coxOfDuration } from './hazard-models.ts';
import { fitOf } from './ratio-lines.ts';

/** A ratio pooled over completed tables, with how much of the information on it was missing. */
export interface PooledLine {
  readonly column: string;
  readonly effect: Effect;
  readonly missingInformation?: number;
}

export interface PooledModels {
  readonly cox: readonly PooledLine[];
  readonly time: readonly PooledLine[];
  /** Feet in each completed table. */
  readonly feet: readonly number[];
}

interface Term {
  readonly name: string;
  readonly coefficient: number | undefined;
  readonly standardError: number | undefined;
  readonly robustStandardError?: number | undefined;
}

interface Fit {
  readonly terms: readonly Term[];
  readonly columns: readonly ModelColumn[];
  readonly n: number;
  readonly events: number;
}

/** The adjusted hazard and time models in every completed table, their coefficients pooled by Rubin's rules. */
export function pooledModels(tables: readonly (readonly DurationFollowUp[])[], plan: Plan): PooledModels {
  const fits = tables.map(items => {
    const design = adjustedDesign(items);
    const cox = coxOfDuration(design, 'adjusted', plan);
    const time = acceleratedOfDuration(design, 'adjusted', plan.duration.distribution, plan);
    const { columns } = design;
    const fit = (terms: readonly Term[] | undefined): Fit => ({
      terms: terms ?? [],
      columns,
      n: cox.n,
      events: cox.events,
    });
    return { cox: fit(fitOf(cox)?.terms), time: fit(fitOf(time)?.terms) };
  });
  return {
    cox: pooled(
      fits.map(fit => fit.cox),
      { key: 'cox.imputed', panel: 'Hazard of finishing, adjusted, imputed' },
      plan,
    ),
    time: pooled(
      fits.map(fit => fit.time),
      { key: 'time.imputed', panel: `Total duration (${plan.duration.distribution}), adjusted, imputed` },
      plan,
    ),
    feet: fits.map(fit => fit.cox.n),
  };
}

function pooled(
  fits: readonly Fit[],
  named: { readonly key: string; readonly panel: string },
  plan: Plan,
): readonly PooledLine[] {
  const columns = new Map(fits.flatMap(fit => fit.columns.map(column => [column.key, column] as const)));
  const n = Math.min(...fits.map(fit => fit.n));
  const events = Math.min(...fits.map(fit => fit.events));
  return [...columns.values()].map(({ key, label, reference }) => {
    const common = {
      key: `${named.key}.${key}`,
      panel: named.panel,
      label,
      kind: 'ratio' as const,
      reference,
      n,
      events,
    };
    const terms = fits.flatMap(fit => usable(fit.terms.find(term => term.name === key)));
    if (terms.length < fits.length) {
      return { column: key, effect: { ...common, state: 'no estimate in every completed table' } };
    }
    const pool = poolEstimates(
      { estimate: terms.map(term => term.coefficient), variance: terms.map(term => term.variance) },
      { level: plan.level },
    );
    const [estimate, lower, upper] = [pool.estimate, pool.lower, pool.upper].map(Math.exp);
    // In a handful of feet the completed tables may disagree so much that the limits are no numbers.
    if (
      estimate === undefined ||
      lower === undefined ||
      upper === undefined ||
      lower === 0 ||
      upper === Infinity
    ) {
      return { column: key, effect: { ...common, state: 'not bounded by the completed tables' } };
    }
    return {
      column: key,
      missingInformation: pool.missingInformation,
      effect: { ...common, estimate, lower, upper },
    };
  });
}

function usable(
  term: Term | undefined,
): readonly { readonly coefficient: number; readonly variance: number }[] {
  const error = term?.robustStandardError ?? term?.standardError;
  if (term?.coefficient === undefined || error === undefined || !(error > 0)) return [];
  return [{ coefficient: term.coefficient, variance: error ** 2 }];
}
