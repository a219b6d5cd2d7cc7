import type { Plan } from '../../plan/plan.ts';
import { StatisticsError } from '../../statistics/errors.ts';
import { coxModel, type CoxTerm } from '../../statistics/regression/cox/index.ts';
import { subdistributionHazardModel } from '../../statistics/regression/subdistribution-hazard.ts';
import type { Cell, Effect, FindingTable, LeftOut } from '../finding.ts';
import { adjustedDesign, crudeDesign, type Design, independentIfAlone } from '../tools/adjustment.ts';
import { ratioOf } from '../tools/ratio.ts';
import { type CorrectionFollowUp, corrections } from './follow-up.ts';

type Kind = 'cox' | 'fine-gray';

/** A regression of time to correction as the lines of a forest. */
export interface FittedModel {
  readonly key: string;
  /** Names the model at the head of a column. */
  readonly label: string;
  readonly panel: string;
  readonly effects: readonly Effect[];
  readonly n: number;
  readonly events: number;
  /** Features that are the same in all feet used. */
  readonly same: readonly string[];
  readonly leftOut: readonly LeftOut[];
  /** Why the model as a whole has no estimates. */
  readonly state?: string;
}

const NAME: Readonly<Record<Kind, string>> = { cox: 'Cox', 'fine-gray': 'Fine–Gray' };

const HAZARD: Readonly<Record<Kind, string>> = {
  cox: 'Hazard of correction',
  'fine-gray': 'Subdistribution hazard of correction',
};

/** Crude (band alone) and adjusted models; Fine-Gray only where competing ends are in question. */
export function correctionModels(
  items: readonly CorrectionFollowUp[],
  plan: Plan,
  kinds: readonly Kind[] = ['cox', 'fine-gray'],
  prefix = '',
): readonly FittedModel[] {
  const crude = crudeDesign(items);
  const adjusted = adjustedDesign(items);
  return kinds.flatMap(kind => [
    fit(kind, 'crude', crude, plan, prefix),
    fit(kind, 'adjusted', adjusted, plan, prefix),
  ]);
}

function fit(
  kind: Kind,
  adjustment: 'crude' | 'adjusted',
  design: Design<CorrectionFollowUp>,
  plan: Plan,
  prefix: string,
): FittedModel {
  const { items, columns, same, leftOut } = design;
  const events = corrections(items);
  const key = `${prefix}${kind}.${adjustment}`;
  const panel = `${HAZARD[kind]}, ${adjustment}`;
  const fitted = columns.length === 0 ? 'no feature differs between the feet' : terms(kind, design, plan);
  const state = typeof fitted === 'string' ? fitted : undefined;
  return {
    key,
    label: `${NAME[kind]}, ${adjustment}`,
    panel,
    n: items.length,
    events,
    same,
    leftOut,
    ...(state === undefined ? {} : { state }),
    effects: columns.map((column, place) => ({
      key: `${key}.${column.key}`,
      panel,
      label: column.label,
      kind: 'ratio',
      reference: column.reference,
      n: items.length,
      events,
      ...(typeof fitted === 'string' ? { state: fitted } : ratioOf(fitted[place])),
    })),
  };
}

function terms(
  kind: Kind,
  { items, columns }: Design<CorrectionFollowUp>,
  plan: Plan,
): readonly CoxTerm[] | string {
  const covariates = Object.fromEntries(columns.map(column => [column.key, column.values]));
  const time = items.map(item => item.day);
  const clusters = independentIfAlone(items, plan);
  const { level } = plan;
  try {
    if (kind === 'cox') {
      return coxModel(
        { time, event: items.map(item => item.cause === 1), covariates, ...clusters },
        { level },
      ).terms;
    }
    const cause = items.map(item => item.cause);
    // A foot censored on a day was under observation throughout it: events of that day come first.
    return subdistributionHazardModel(
      { time, cause, covariates, ...clusters },
      { level, tiedCensoring: 'events-removed' },
    ).terms;
  } catch (error) {
    const state = error instanceof StatisticsError ? REFUSALS[error.code] : undefined;
    if (state === undefined) throw error;
    return state;
  }
}

/** Data from which no model can be fitted, as the state of its terms. */
const REFUSALS: Readonly<Partial<Record<StatisticsError['code'], string>>> = {
  'no-events': 'no corrections',
  'constant-covariate': 'no correction while feet that differ in a feature were followed',
  'collinear-covariates': 'features that go together cannot be told apart',
};

/** One row a feature, one column a model. */
export function modelTable(key: string, title: string, models: readonly FittedModel[]): FindingTable {
  const rows = new Map<string, Record<string, Cell>>();
  for (const model of models) {
    for (const effect of model.effects) {
      const feature = effect.key.slice(model.key.length + 1);
      const row = rows.get(feature) ?? { feature: effect.label, reference: effect.reference };
      row[model.key] = effectCell(effect);
      rows.set(feature, row);
    }
  }
  const used = models.map(
    model =>
      `${model.label}: ${model.n} feet, ${model.events} corrections${model.state === undefined ? '' : ` (${model.state})`}`,
  );
  const adjusted = models.find(model => model.key.endsWith('adjusted'));
  const out = adjusted?.leftOut ?? [];
  return {
    key,
    title,
    columns: [
      { key: 'feature', label: 'Feature', kind: 'text' },
      { key: 'reference', label: 'Compared with', kind: 'text' },
      ...models.map(model => ({ key: model.key, label: model.label, kind: 'ratio' as const })),
    ],
    rows: [...rows.values()],
    notes: [
      'Cox: ratios of the hazard, other ends censored; Fine–Gray: of the hazard that goes with the share corrected, other ends competing. Ratios above 1 mean sooner correction.',
      `${used.join('; ')}.`,
      ...(out.length === 0
        ? []
        : [
            `Left out of the adjusted models: ${out.map(group => `${group.reason}, ${group.feet} feet`).join('; ')}.`,
          ]),
      ...(adjusted === undefined || adjusted.same.length === 0
        ? []
        : [`The same in all feet, and so not in the adjusted models: ${adjusted.same.join(', ')}.`]),
    ],
  };
}

export function effectCell(effect: Effect): Cell {
  if (effect.estimate === undefined) return effect.state;
  return {
    estimate: effect.estimate,
    ...(effect.lower === undefined ? {} : { lower: effect.lower }),
    ...(effect.upper === undefined ? {} : { upper: effect.upper }),
  };
}

/** Fewer corrections than this for each term make an adjusted model unreliable. */
const EVENTS_FOR_A_TERM = 10;

export function modelCautions(models: readonly FittedModel[]): readonly string[] {
  const thin = models.filter(
    model => model.effects.length > 0 && model.events < EVENTS_FOR_A_TERM * model.effects.length,
  );
  if (thin.length === 0) return [];
  return [
    `There are fewer than ${EVENTS_FOR_A_TERM} corrections for each feature in: ${thin.map(model => model.panel.toLowerCase()).join('; ')}. Those ratios may be far from the truth.`,
  ];
}
