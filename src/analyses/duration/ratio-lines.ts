import type { Effect } from '../finding.ts';
import type { Design } from '../tools/adjustment.ts';
import { type DurationFollowUp, finishedOf } from './follow-up.ts';

export type Adjustment = 'crude' | 'adjusted';

/** A term of any model, with its ratio and limits where it has them. */
export interface RatioTerm {
  readonly name: string;
  readonly estimate: 'finite' | 'infinite' | 'undetermined';
  readonly ratio: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

/** A model of the duration as the lines of a forest, beside the fit itself; a fit that failed is named by its state. */
export interface DurationModel<F> {
  /** Such as `cox.adjusted`. */
  readonly key: string;
  readonly panel: string;
  readonly adjustment: Adjustment;
  readonly design: Design<DurationFollowUp>;
  readonly fitted: F | { readonly state: string };
  readonly effects: readonly Effect[];
  readonly n: number;
  readonly events: number;
}

export const NOTHING_DIFFERS = 'no feature differs between the feet';

/** The lines of a model, one for each column of its design; `terms` gives those of a fit. */
export function durationModel<F extends object>(
  named: { readonly key: string; readonly panel: string; readonly adjustment: Adjustment },
  design: Design<DurationFollowUp>,
  fitted: F | { readonly state: string },
  terms: (fit: F) => readonly RatioTerm[],
): DurationModel<F> {
  const n = design.items.length;
  const events = finishedOf(design.items).length;
  const found = isState(fitted) ? [] : terms(fitted);
  return {
    ...named,
    design,
    fitted,
    n,
    events,
    effects: design.columns.map(column => ({
      key: `${named.key}.${column.key}`,
      panel: named.panel,
      label: column.label,
      kind: 'ratio',
      reference: column.reference,
      n,
      events,
      ...(isState(fitted) ? { state: fitted.state } : ratioOf(found.find(term => term.name === column.key))),
    })),
  };
}

export function isState(fitted: object): fitted is { readonly state: string } {
  return 'state' in fitted;
}

/** The fit, or nothing where it failed. */
export function fitOf<F extends object>(model: DurationModel<F>): F | undefined {
  return isState(model.fitted) ? undefined : model.fitted;
}

function ratioOf(term: RatioTerm | undefined): Pick<Effect, 'estimate' | 'lower' | 'upper' | 'state'> {
  if (term?.ratio === undefined) {
    return { state: term?.estimate === 'infinite' ? 'separated' : 'did not converge' };
  }
  return {
    estimate: term.ratio,
    ...(term.lower === undefined ? {} : { lower: term.lower }),
    ...(term.upper === undefined ? {} : { upper: term.upper }),
  };
}

/** The columns of a design as the statistics take them. */
export function covariatesOf(design: Design<DurationFollowUp>): Readonly<Record<string, readonly number[]>> {
  return Object.fromEntries(design.columns.map(column => [column.key, column.values]));
}
