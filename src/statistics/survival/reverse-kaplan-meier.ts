import type { SurvivalCurve } from './curve.ts';
import { checkedFollowUp, type FollowUpData } from './follow-up.ts';
import { type KaplanMeierOptions, kaplanMeierCurve } from './kaplan-meier.ts';
import { type QuantileEstimate, survivalQuantile } from './survival-quantile.ts';

/**
 * Reverse Kaplan-Meier curve: censoring taken as the event and the event as censoring, so that it shows how
 * long people would have been followed had nobody had the event. A row with its event at t is still at risk
 * of a censoring at t.
 *
 * @throws StatisticsError as `kaplanMeier`
 *
 * Source: Schemper and Smith, Control Clin Trials 1996;17:343-346.
 * @example reverseKaplanMeier({ time, event }).survival.at(-1) // 0
 */
export function reverseKaplanMeier(data: FollowUpData, options: KaplanMeierOptions = {}): SurvivalCurve {
  const rows = checkedFollowUp(data);
  return kaplanMeierCurve({ ...rows, event: rows.event.map(e => 1 - e) }, options);
}

/**
 * Median follow-up by the reverse Kaplan-Meier curve, with its limits; undefined where the curve does not
 * reach a half.
 *
 * @throws StatisticsError as `kaplanMeier`
 * @example medianFollowUp({ time: [12, 30, 30], event: [1, 0, 0] }).estimate // 30
 */
export function medianFollowUp(data: FollowUpData, options: KaplanMeierOptions = {}): QuantileEstimate {
  return survivalQuantile(reverseKaplanMeier(data, options), 0.5);
}
