import type { Plan } from '../../plan/plan.ts';
import { meanCumulativeCount } from '../../statistics/recurrent-events/index.ts';
import type { MeanCountCurve } from '../mean-count-curve.ts';
import { type CurveNaming, DAYS_IN_WEEK, withLimits } from './curves.ts';
import { countInfants, type OfOneFoot } from './people.ts';

/** The events of one foot by day, and the day on which its observation ends. */
export interface RepeatedEvents extends OfOneFoot {
  readonly endDay: number;
  readonly days: readonly number[];
}

/**
 * The mean cumulative count of events a foot, with errors that allow for any dependence between the events of a foot
 * and, unless the plan takes feet as independent, of an infant. Steps at the days of events, from day 0 to the last day.
 *
 * @param feet at least one
 */
export function meanCountCurve(
  naming: CurveNaming,
  feet: readonly RepeatedEvents[],
  plan: Plan,
): MeanCountCurve {
  const subject: number[] = [];
  const time: number[] = [];
  const event: number[] = [];
  const end: number[] = [];
  const cluster: string[] = [];
  for (const [place, foot] of feet.entries()) {
    const row = (day: number, happened: 0 | 1): void => {
      subject.push(place);
      time.push(day);
      event.push(happened);
      end.push(foot.endDay);
      cluster.push(plan.clustering.byInfant ? foot.infant : foot.episode);
    };
    row(foot.endDay, 0);
    for (const day of foot.days) row(day, 1);
  }
  const count = meanCumulativeCount({ subject, time, event, end }, { level: plan.level, cluster });
  const last = count.time.length - 1;
  const places = count.time.flatMap((_, k) => ((count.events[k] ?? 0) > 0 || k === last ? [k] : []));
  const at = <T>(values: readonly T[]): T[] => places.map(k => values[k] as T);
  const fromStart = count.time[places[0] ?? 0] !== 0;
  const limited = countInfants(feet) > 1 || !plan.clustering.byInfant;
  const steps = (values: readonly number[], first: number): number[] => [
    ...(fromStart ? [first] : []),
    ...at(values),
  ];
  const limits = (values: readonly (number | undefined)[]): (number | undefined)[] =>
    [...(fromStart ? [undefined] : []), ...at(values)].map(value => (limited ? value : undefined));
  return {
    ...naming,
    timeUnit: 'weeks',
    time: steps(count.time, 0).map(day => day / DAYS_IN_WEEK),
    mean: steps(count.mean, 0),
    standardError: steps(count.standardError, 0),
    lower: limits(count.lower),
    upper: limits(count.upper),
    atRisk: steps(count.atRisk, feet.length),
    n: feet.length,
    infants: countInfants(feet),
    events: feet.reduce((sum, foot) => sum + foot.days.length, 0),
  };
}

/** The mean count by the end of a week, or the state of a week beyond all follow-up. */
export function meanCountBy(
  curve: MeanCountCurve,
  week: number,
):
  | { readonly estimate: number; readonly lower?: number; readonly upper?: number }
  | { readonly state: string } {
  const last = curve.time.at(-1) ?? 0;
  // Weeks are sevenths of whole days: closer than this is the same day.
  const slack = 1e-9;
  if (week > last + slack) return { state: 'not followed so long' };
  const place = curve.time.findLastIndex(time => time <= week + slack);
  return withLimits(curve.mean[place] ?? 0, curve.lower[place], curve.upper[place]);
}
