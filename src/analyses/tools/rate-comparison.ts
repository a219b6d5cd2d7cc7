import type { Plan } from '../../plan/plan.ts';
import { rateRatio } from '../../statistics/rates/index.ts';
import { poissonModel } from '../../statistics/regression/poisson-model.ts';
import type { Effect, FindingTable } from '../finding.ts';
import { attempt } from './attempt.ts';
import { DAYS_IN_WEEK, withLimits } from './curves.ts';
import type { OfOneFoot } from './people.ts';

/** Events of one foot, or one step-down, in its days at risk. */
export interface RateItem extends OfOneFoot {
  readonly events: number;
  readonly days: number;
}

export interface RateGroup {
  readonly name: string;
  readonly items: readonly RateItem[];
}

export interface RateComparison {
  /** Such as `steps`. */
  readonly key: string;
  /** Such as `Relapse rate`. */
  readonly measure: string;
  /** The first is what the others are compared with. */
  readonly groups: readonly RateGroup[];
}

/**
 * Rate ratios of every later group to the first, twice over: exact, with feet taken as independent, and from a Poisson
 * model whose errors allow for several rows of one infant. A group without events has no ratio in the model.
 */
export function rateEffects(comparison: RateComparison, plan: Plan): readonly Effect[] {
  const [reference, ...others] = comparison.groups.filter(group => daysOf(group) > 0);
  if (reference === undefined) return [];
  return [
    ...others.map(group => exactRatio(comparison, group, reference, plan)),
    ...(plan.clustering.byInfant ? clusteredRatios(comparison, reference, others, plan) : []),
  ];
}

function exactRatio(comparison: RateComparison, group: RateGroup, reference: RateGroup, plan: Plan): Effect {
  const { level } = plan;
  const ratio = rateRatio(eventsOf(group), footWeeks(group), eventsOf(reference), footWeeks(reference), {
    level,
  });
  const common = line(comparison, group, reference, 'exact', 'feet as independent');
  return ratio.estimate === undefined
    ? { ...common, state: 'no events to compare with' }
    : { ...common, ...withLimits(ratio.estimate, ratio.lower, ratio.upper) };
}

function clusteredRatios(
  comparison: RateComparison,
  reference: RateGroup,
  others: readonly RateGroup[],
  plan: Plan,
): readonly Effect[] {
  const common = (group: RateGroup): Effect =>
    line(comparison, group, reference, 'clustered', 'clustered by infant');
  if (eventsOf(reference) === 0) {
    return others.map(group => ({ ...common(group), state: 'no events to compare with' }));
  }
  const fitted = others.filter(group => eventsOf(group) > 0);
  const rows = [reference, ...fitted].flatMap(group =>
    group.items.filter(item => item.days > 0).map(item => ({ group, item })),
  );
  const model = attempt(() =>
    poissonModel(
      {
        outcome: rows.map(row => row.item.events),
        offset: rows.map(row => Math.log(row.item.days)),
        cluster: rows.map(row => row.item.infant),
        covariates: Object.fromEntries(
          fitted.map(group => [group.name, rows.map(row => (row.group === group ? 1 : 0))]),
        ),
      },
      { level: plan.level },
    ),
  );
  return others.map(group => {
    if (!fitted.includes(group)) return { ...common(group), state: 'no events' };
    if ('state' in model) return { ...common(group), state: model.state };
    const term = model.terms.find(({ name }) => name === group.name);
    return term?.rateRatio === undefined
      ? { ...common(group), state: 'did not converge' }
      : { ...common(group), ...withLimits(term.rateRatio, term.lower, term.upper) };
  });
}

function line(
  comparison: RateComparison,
  group: RateGroup,
  reference: RateGroup,
  key: string,
  how: string,
): Effect {
  return {
    key: `rateRatio.${comparison.key}.${key}.${group.name}`,
    panel: `${comparison.measure}, ${how}`,
    label: group.name,
    kind: 'ratio',
    reference: reference.name,
    n: group.items.length + reference.items.length,
    events: eventsOf(group) + eventsOf(reference),
  };
}

/** The two ratios of every comparison side by side. */
export function rateRatioTable(title: string, comparisons: readonly (readonly Effect[])[]): FindingTable {
  const cell = (effect: Effect | undefined) =>
    effect?.estimate === undefined ? effect?.state : withLimits(effect.estimate, effect.lower, effect.upper);
  return {
    key: 'rate-ratios',
    title,
    columns: [
      { key: 'group', label: 'Group', kind: 'text' },
      { key: 'reference', label: 'Compared with', kind: 'text' },
      { key: 'events', label: 'Events', kind: 'count' },
      { key: 'exact', label: 'Ratio, feet as independent', kind: 'ratio' },
      { key: 'clustered', label: 'Ratio, clustered by infant', kind: 'ratio' },
    ],
    rows: comparisons.flatMap(effects =>
      effects
        .filter(effect => effect.key.includes('.exact.'))
        .map(effect => ({
          group: effect.label,
          reference: effect.reference,
          events: effect.events,
          exact: cell(effect),
          clustered: cell(effects.find(other => other.key === effect.key.replace('.exact.', '.clustered.'))),
        })),
    ),
    notes: [
      'The exact interval takes feet and repeated events as independent; the other one allows for several of one infant.',
    ],
  };
}

function eventsOf(group: RateGroup): number {
  return group.items.reduce((sum, item) => sum + item.events, 0);
}

function daysOf(group: RateGroup): number {
  return group.items.reduce((sum, item) => sum + item.days, 0);
}

function footWeeks(group: RateGroup): number {
  return daysOf(group) / DAYS_IN_WEEK;
}
