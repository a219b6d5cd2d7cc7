import { StatisticsError } from '../errors.ts';
import { checkedFollowUp, type FollowUpData } from './follow-up.ts';
import { riskSets } from './risk-sets.ts';
import { crossing } from './survival-quantile.ts';

/**
 * A fast Kaplan-Meier quantile for resampling: the rows are sorted once, and the function returned gives the
 * quantile of the sample in which row i stands `counts[i]` times (any weights of 0 or more will do), in
 * linear time. The convention is that of `survivalQuantile`.
 *
 * `weight` and `cluster` in the data are not used: the counts take their place.
 *
 * @throws StatisticsError as `kaplanMeier` and `survivalQuantile`
 * @example resampledQuantile({ time, event }, 0.5)([1, 1, 1, 1, 1, 1, 1, 1]) // 84
 *
 * Source: Efron, J Am Stat Assoc 1981;76:312-319.
 */
export function resampledQuantile(
  data: Pick<FollowUpData, 'time' | 'event' | 'entry'>,
  p: number,
): (counts: ArrayLike<number>) => number | undefined {
  if (!(p > 0 && p < 1)) {
    throw new StatisticsError('out-of-range', `p is ${p}; a number between 0 and 1 is needed`);
  }
  const rows = checkedFollowUp({ time: data.time, event: data.event, entry: data.entry });
  const { times, place, entryPlace } = riskSets(rows);
  const size = times.length;
  const leaving = new Float64Array(size);
  const failing = new Float64Array(size);
  const entering = new Float64Array(size);
  const observed: number[] = [];
  const survival: number[] = [];
  return counts => {
    leaving.fill(0);
    failing.fill(0);
    entering.fill(0);
    for (let i = 0; i < place.length; i++) {
      const count = counts[i] ?? 0;
      if (count === 0) continue;
      const k = place[i] as number;
      const from = entryPlace ? (entryPlace[i] as number) : 0;
      leaving[k] = (leaving[k] as number) + count;
      if (rows.event[i] === 1) failing[k] = (failing[k] as number) + count;
      entering[from] = (entering[from] as number) + count;
    }
    observed.length = 0;
    survival.length = 0;
    let atRisk = 0;
    let s = 1;
    for (let k = 0; k < size; k++) {
      atRisk += entering[k] as number;
      const gone = leaving[k] as number;
      if (gone === 0) continue;
      if ((failing[k] as number) > 0) s *= (atRisk - (failing[k] as number)) / atRisk;
      observed.push(times[k] as number);
      survival.push(s);
      atRisk -= gone;
    }
    return crossing(observed, survival, 1 - p);
  };
}
