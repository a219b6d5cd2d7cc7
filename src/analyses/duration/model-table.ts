import type { Cell, Effect, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { cellOf } from '../tools/cells.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { type DurationFollowUp, finishedOf } from './follow-up.ts';
import { type DurationModel, isState } from './ratio-lines.ts';

type AnyModel = DurationModel<object>;

/** One row a feature, one column a model; the notes say whom each model used and what it left out. */
export function modelTable(
  key: string,
  title: string,
  models: readonly AnyModel[],
  reading: string,
): FindingTable {
  const rows = new Map<string, Record<string, Cell>>();
  for (const model of models) {
    for (const effect of model.effects) {
      const feature = effect.key.slice(model.key.length + 1);
      const row = rows.get(feature) ?? { feature: effect.label, reference: effect.reference };
      row[model.key] = cellOf(effect);
      rows.set(feature, row);
    }
  }
  return {
    key,
    title,
    columns: [
      { key: 'feature', label: 'Feature', kind: 'text' },
      { key: 'reference', label: 'Compared with', kind: 'text' },
      ...models.map(model => ({ key: model.key, label: model.panel, kind: 'ratio' as const })),
    ],
    rows: [...rows.values()],
    notes: [reading, ...usedNotes(models)],
  };
}

function usedNotes(models: readonly AnyModel[]): readonly string[] {
  const used = models.map(model => {
    const failed = isState(model.fitted) ? ` (${model.fitted.state})` : '';
    return `${model.panel}: ${model.n} feet, ${model.events} finished${failed}`;
  });
  const adjusted = models.find(model => model.adjustment === 'adjusted');
  const out = (adjusted?.design.leftOut ?? []).map(
    group => `${group.reason}, ${group.feet} ${group.feet === 1 ? 'foot' : 'feet'}`,
  );
  const same = adjusted?.design.same ?? [];
  return [
    `${used.join('; ')}.`,
    ...(out.length === 0 ? [] : [`Left out of the adjusted models: ${out.join('; ')}.`]),
    ...(same.length === 0
      ? []
      : [`The same in all feet, and so not in the adjusted models: ${same.join(', ')}.`]),
  ];
}

/** The lines of the bands as measures that can be quoted: `hazard-ratio.adjusted.severe`. */
export function bandRatioMeasures(prefix: string, label: string, model: AnyModel): readonly Measure[] {
  const infants = countInfants(model.design.items);
  return bandEffects(model).map(({ effect, band }) => ({
    key: `${prefix}.${model.adjustment}.${band}`,
    label: `${label} to ${effect.reference}, ${model.adjustment}`,
    group: band,
    kind: 'ratio',
    unit: 'ratio',
    n: model.n,
    infants,
    events: model.events,
    ...(effect.estimate === undefined
      ? { state: effect.state ?? 'no data' }
      : {
          estimate: effect.estimate,
          ...(effect.lower === undefined ? {} : { lower: effect.lower }),
          ...(effect.upper === undefined ? {} : { upper: effect.upper }),
        }),
  }));
}

/** The lines of a model that compare bands. */
export function bandEffects(model: AnyModel): readonly { readonly effect: Effect; readonly band: string }[] {
  const prefix = `${model.key}.band.`;
  return model.effects
    .filter(effect => effect.key.startsWith(prefix))
    .map(effect => ({ effect, band: effect.key.slice(prefix.length) }));
}

/** Feet that the models used and why the adjusted ones used fewer, as counts with the feet behind them. */
export function usedFeet(
  all: readonly DurationFollowUp[],
  crude: AnyModel,
  adjusted: AnyModel,
): { readonly measures: readonly Measure[]; readonly trace: Readonly<Record<string, TraceEntry>> } {
  const complete = new Set(adjusted.design.items);
  const groups = [
    {
      key: 'no-day',
      label: 'Feet with no day of therapy, not in the models',
      rule: 'last day of therapy is day 0',
      items: all.filter(item => item.day === 0),
    },
    {
      key: 'crude',
      label: 'Feet in the crude models',
      rule: 'severity band known, at least a day of therapy',
      items: crude.design.items,
    },
    {
      key: 'complete',
      label: 'Feet in the adjusted models (complete cases)',
      rule: 'in the crude models, with sex and crease recorded',
      items: adjusted.design.items,
    },
    {
      key: 'incomplete',
      label: 'Feet in the crude models only',
      rule: 'in the crude models, with sex or crease not recorded',
      items: crude.design.items.filter(item => !complete.has(item)),
    },
  ];
  return {
    measures: groups.map(({ key, label, items }) => ({
      key: `models.${key}`,
      label,
      kind: 'count',
      unit: 'feet',
      estimate: items.length,
      infants: countInfants(items),
      events: finishedOf(items).length,
    })),
    trace: Object.fromEntries(
      groups.flatMap(({ key, rule, items }) => [
        [`models.${key}`, traceFeet(rule, items)],
        [`models.${key}.finished`, traceFeet(`${rule}; finished`, finishedOf(items))],
      ]),
    ),
  };
}

/** Fewer finished feet than this for each term make an adjusted model unreliable. */
const EVENTS_FOR_A_TERM = 10;

export function modelCautions(models: readonly AnyModel[]): readonly string[] {
  const thin = models.filter(
    model => model.effects.length > 0 && model.events < EVENTS_FOR_A_TERM * model.effects.length,
  );
  if (thin.length === 0) return [];
  return [
    `Fewer than ${EVENTS_FOR_A_TERM} feet finished for each feature in: ${thin.map(model => model.panel.toLowerCase()).join('; ')}. Those ratios may be far from the truth.`,
  ];
}
