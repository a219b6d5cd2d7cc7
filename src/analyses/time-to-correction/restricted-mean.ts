import type { Plan } from '../../plan/plan.ts';
import { restrictedMean, restrictedMeanDifference } from '../../statistics/survival/index.ts';
import type { FindingTable, Measure } from '../finding.ts';
import { DAYS_IN_WEEK, hasLimits, weeks, withLimits } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { type BandResult, corrections } from './follow-up.ts';
import { cellOf } from './measures.ts';

/** Mean weeks not yet seen corrected up to the plan's horizon, by band, and the differences between bands. */
export function restrictedMeanMeasures(bands: readonly BandResult[], plan: Plan): readonly Measure[] {
  const horizon = plan.correction.restrictedMeanWeeks * DAYS_IN_WEEK;
  const level = { level: plan.level };
  const means = bands.map(({ band, items, survival }): Measure => {
    return {
      key: `restricted-mean.${band}`,
      label: `Mean time not yet seen corrected within ${plan.correction.restrictedMeanWeeks} weeks`,
      group: band,
      kind: 'time',
      unit: 'weeks',
      n: items.length,
      infants: countInfants(items),
      events: corrections(items),
      ...inWeeks(hasLimits(items, plan) ? restrictedMean(survival, horizon, level) : undefined),
    };
  });
  const differences = pairs(bands).map(([less, more]): Measure => {
    const both = hasLimits(less.items, plan) && hasLimits(more.items, plan);
    const items = [...less.items, ...more.items];
    return {
      key: `restricted-mean-difference.${more.band}-${less.band}`,
      label: 'Difference in that mean',
      group: `${more.band} less ${less.band}`,
      kind: 'difference',
      unit: 'weeks',
      n: items.length,
      infants: countInfants(items),
      events: corrections(items),
      ...inWeeks(both ? differenceOf(less, more, horizon, plan) : undefined),
    };
  });
  return [...means, ...differences];
}

/** An infant may have a foot in either band, so the two means are not independent. */
function differenceOf(less: BandResult, more: BandResult, horizon: number, plan: Plan) {
  const infants = ({ items }: BandResult): readonly string[] => items.map(item => item.infant);
  return restrictedMeanDifference(less.survival, more.survival, horizon, {
    level: plan.level,
    ...(plan.clustering.byInfant ? { cluster: [infants(less), infants(more)] } : {}),
  });
}

/** Undefined stands for a band with a single infant, of which no clustered error can be given. */
function inWeeks(
  mean:
    | {
        readonly estimate: number;
        readonly lower: number | undefined;
        readonly upper: number | undefined;
        readonly extrapolated: boolean;
      }
    | undefined,
) {
  if (mean === undefined) return { state: 'one infant only' };
  const { lower, upper } = mean;
  if (lower === undefined || upper === undefined) return { state: 'one infant only' };
  if (mean.extrapolated) return { state: 'followed too short' };
  return withLimits(weeks(mean.estimate), weeks(lower), weeks(upper));
}

export function restrictedMeanTable(measures: readonly Measure[], plan: Plan): FindingTable {
  return {
    key: 'restricted-mean',
    title: `Mean time not yet seen corrected within the first ${plan.correction.restrictedMeanWeeks} weeks`,
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'mean', label: 'Mean, or difference', unit: 'weeks', kind: 'time' },
    ],
    rows: measures.map(measure => ({ group: measure.group, feet: measure.n, mean: cellOf(measure) })),
    notes: [
      'Area under the visit-dated Kaplan–Meier curve. The limits of a difference allow for infants with a foot in either band.',
    ],
  };
}

function pairs(bands: readonly BandResult[]): readonly (readonly [BandResult, BandResult])[] {
  return bands.flatMap((less, place) => bands.slice(place + 1).map(more => [less, more] as const));
}
