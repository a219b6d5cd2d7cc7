import type { Plan } from '../../plan/plan.ts';
import {
  type AcceleratedFailureModel,
  acceleratedFailureModel,
  type FailureDistribution,
} from '../../statistics/regression/accelerated-failure/index.ts';
import type { FindingTable } from '../finding.ts';
import { type Design, independentIfAlone } from '../tools/adjustment.ts';
import { attempt } from '../tools/attempt.ts';
import { cellOf } from '../tools/cells.ts';
import type { DurationFollowUp } from './follow-up.ts';
import {
  type Adjustment,
  covariatesOf,
  type DurationModel,
  durationModel,
  fitOf,
  isState,
} from './ratio-lines.ts';

const DISTRIBUTIONS: readonly FailureDistribution[] = [
  'weibull',
  'log-normal',
  'log-logistic',
  'exponential',
];

/** One accelerated-failure model of total duration. */
export interface AcceleratedModel extends DurationModel<AcceleratedFailureModel> {
  readonly distribution: FailureDistribution;
  readonly planned: boolean;
}

/**
 * Accelerated-failure model of the days to finishing, other ends censored: time ratios, above 1 for longer therapy. The
 * model of the planned distribution has the key `time.crude` or `time.adjusted`, the others name their distribution.
 */
export function acceleratedOfDuration(
  design: Design<DurationFollowUp>,
  adjustment: Adjustment,
  distribution: FailureDistribution,
  plan: Plan,
): AcceleratedModel {
  const planned = distribution === plan.duration.distribution;
  const named = {
    key: planned ? `time.${adjustment}` : `time.${distribution}.${adjustment}`,
    panel: `Total duration (${distribution}), ${adjustment}`,
    adjustment,
  };
  const model = durationModel(named, design, fit(design, distribution, plan), ({ terms }) =>
    terms.map(({ name, estimate, timeRatio: ratio, lower, upper }) => ({
      name,
      estimate,
      ratio,
      lower,
      upper,
    })),
  );
  return { ...model, distribution, planned };
}

function fit(
  design: Design<DurationFollowUp>,
  distribution: FailureDistribution,
  plan: Plan,
): AcceleratedFailureModel | { readonly state: string } {
  const { items } = design;
  const data = {
    time: items.map(item => item.day),
    event: items.map(item => item.cause === 1),
    ...independentIfAlone(items, plan),
  };
  return attempt(() =>
    acceleratedFailureModel(data, covariatesOf(design), { distribution, level: plan.level }),
  );
}

/** The planned distribution first, the others beside it. */
export function distributionsOf(plan: Plan): readonly FailureDistribution[] {
  const { distribution } = plan.duration;
  return [distribution, ...DISTRIBUTIONS.filter(other => other !== distribution)];
}

/** Akaike's criterion: twice the number of parameters less twice the log likelihood of the times in days. */
export function akaike(model: AcceleratedFailureModel): number {
  const parameters = model.terms.length + (model.distribution === 'exponential' ? 0 : 1);
  return 2 * parameters - 2 * model.logLikelihood;
}

/** The adjusted model with the least criterion. */
export function bestFit(models: readonly AcceleratedModel[]): AcceleratedModel | undefined {
  const [best] = models
    .filter(model => model.adjustment === 'adjusted')
    .flatMap(model => {
      const fitted = fitOf(model);
      return fitted?.converged === true ? [{ model, criterion: akaike(fitted) }] : [];
    })
    .sort((a, b) => a.criterion - b.criterion);
  return best?.model;
}

/** How well each distribution fits, and whether the ratio of the bands hangs on it. */
export function distributionTable(models: readonly AcceleratedModel[]): FindingTable {
  const last = models[0]?.design.columns.filter(column => column.key.startsWith('band.')).at(-1);
  return {
    key: 'distributions',
    title: 'Distributions of total duration',
    columns: [
      { key: 'distribution', label: 'Distribution', kind: 'text' },
      { key: 'model', label: 'Model', kind: 'text' },
      { key: 'n', label: 'Feet', kind: 'count' },
      { key: 'finished', label: 'Finished', kind: 'count' },
      { key: 'logLikelihood', label: 'Log likelihood', kind: 'number' },
      { key: 'akaike', label: 'Akaike’s criterion', kind: 'number' },
      {
        key: 'ratio',
        label:
          last === undefined ? 'Time ratio' : `Time ratio, ${last.label.toLowerCase()} to ${last.reference}`,
        kind: 'ratio',
      },
    ],
    rows: models.map(model => {
      const fitted = fitOf(model);
      const effect = model.effects.find(line => line.key === `${model.key}.${last?.key ?? ''}`);
      const state = isState(model.fitted) ? model.fitted.state : 'did not converge';
      return {
        distribution: model.planned ? `${model.distribution} (planned)` : model.distribution,
        model: model.adjustment,
        n: model.n,
        finished: model.events,
        logLikelihood: fitted?.converged === true ? fitted.logLikelihood : state,
        akaike: fitted?.converged === true ? akaike(fitted) : state,
        ratio: cellOf(effect),
      };
    }),
    notes: [
      'A lower criterion is a better fit; it compares models of the same feet only. The planned distribution stays the one that is reported, whichever fits best.',
    ],
  };
}
