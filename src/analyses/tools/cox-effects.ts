import { type CoxModel, type CoxTerm, coxModel } from '../../statistics/regression/cox/index.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Effect } from '../finding.ts';
import { attempt } from './attempt.ts';

/** A covariate with the words for its line: its name and what a ratio compares. */
export interface NamedCovariate {
  readonly key: string;
  readonly label: string;
  readonly reference: string;
  readonly values: ArrayLike<number>;
}

export interface CoxRows {
  readonly time: ArrayLike<number>;
  readonly entry?: ArrayLike<number>;
  readonly event: ArrayLike<number | boolean>;
  readonly strata?: ArrayLike<string | number>;
  readonly infant: ArrayLike<string | number>;
}

/** The fit of one model: its lines, and how it came about. */
export interface CoxFit {
  readonly effects: readonly Effect[];
  readonly terms: readonly CoxTerm[];
  /** Fitted with a penalty, since a hazard ratio was without bound. */
  readonly penalised: boolean;
  readonly n: number;
  readonly events: number;
}

/**
 * A Cox model as the lines of a forest, errors clustered by infant. A covariate that does not vary is left out and says
 * so on its line. Where the events are separated the fit is made again with Firth's penalty, whose limits take rows as
 * independent, and its lines say so.
 */
export function coxEffects(
  panel: { readonly key: string; readonly title: string },
  rows: CoxRows,
  covariates: readonly NamedCovariate[],
  plan: Plan,
): CoxFit {
  const n = rows.time.length;
  const events = countOf(rows.event, event => event === true || event === 1);
  const varying = covariates.filter(({ values }) => countOf(values, value => value !== values[0]) > 0);
  const fitted = attempt(() => fit(rows, varying, plan));
  const terms = 'state' in fitted ? [] : fitted.model.terms;
  const penalised = !('state' in fitted) && fitted.model.penalty === 'firth';
  const effects = covariates.map(({ key, label, reference }): Effect => {
    const common = {
      key: `${panel.key}.${key}`,
      panel: panel.title,
      label: penalised ? `${label} (penalised)` : label,
      kind: 'ratio' as const,
      reference,
      n,
      events,
    };
    if (n === 0) return { ...common, state: 'no data' };
    if (!varying.some(covariate => covariate.key === key)) return { ...common, state: 'does not vary' };
    if ('state' in fitted) return { ...common, state: fitted.state };
    return { ...common, ...ratioOf(terms.find(term => term.name === key)) };
  });
  return { effects, terms, penalised, n, events };
}

function fit(rows: CoxRows, covariates: readonly NamedCovariate[], plan: Plan): { model: CoxModel } {
  const data = {
    time: rows.time,
    event: rows.event,
    ...(rows.entry === undefined ? {} : { entry: rows.entry }),
    ...(rows.strata === undefined ? {} : { strata: rows.strata }),
    covariates: Object.fromEntries(covariates.map(({ key, values }) => [key, values])),
  };
  const cluster = plan.clustering.byInfant ? { cluster: rows.infant } : {};
  const model = coxModel({ ...data, ...cluster }, { level: plan.level });
  const separated = model.warnings.some(warning => warning.code === 'monotone-likelihood');
  return { model: separated ? coxModel(data, { level: plan.level, penalty: 'firth' }) : model };
}

function ratioOf(term: CoxTerm | undefined): Partial<Effect> {
  if (term?.hazardRatio === undefined) {
    return { state: term?.estimate === 'infinite' ? 'separated' : 'did not converge' };
  }
  return {
    estimate: term.hazardRatio,
    ...(term.lower === undefined ? {} : { lower: term.lower }),
    ...(term.upper === undefined ? {} : { upper: term.upper }),
  };
}

function countOf<T>(values: ArrayLike<T>, wanted: (value: T) => boolean): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (wanted(values[i] as T)) count++;
  return count;
}
