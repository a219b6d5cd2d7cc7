import type { RiskSets } from '../survival/risk-sets.ts';
import type { IncidenceSteps } from './incidence-steps.ts';

/**
 * Counting-process (delta-method) variance of one cause's incidence F at every distinct time t: the sum over
 * earlier event times u of (S(u-) / at risk) squared times
 *   d1 c1 (1 - (F(t) - F(u)) / S(u)) squared, for the d1 events of the cause, and d2 c2 ((F(t) - F(u)) /
 *   S(u)) squared, for the d2 events of other causes,
 * with c = 1 - (d - 1) / (at risk - 1) for d tied events. Where S(u) is 0 the first bracket is 1 and the
 * second 0.
 *
 * Source: Aalen, Ann Stat 1978;6:534-545; Gray, Ann Stat 1988;16:1141-1154.
 */
export function incidenceDeltaMethod(sets: RiskSets, steps: IncidenceSteps): Float64Array {
  const size = sets.times.length;
  const end = steps.incidence[size - 1] ?? 0;
  const variance = new Float64Array(size);
  // With y = bracket at t = end and x = 1 / S(u), each bracket is linear in r = F(end) - F(t): y + r x or y -
  // r x.
  let yy = 0;
  let xy = 0;
  let xx = 0;
  for (let k = 0; k < size; k++) {
    const atRisk = sets.atRisk[k] as number;
    const own = steps.events[k] as number;
    const other = (sets.events[k] as number) - own;
    const after = steps.after[k] as number;
    const rest = end - (steps.incidence[k] as number);
    const scale = atRisk > 0 ? ((steps.before[k] as number) / atRisk) ** 2 : 0;
    const x = after > 0 ? 1 / after : 0;
    if (own > 0) {
      const size1 = scale * own * tieFactor(own, atRisk);
      const y = 1 - rest * x;
      yy += size1 * y * y;
      xy += size1 * y * x;
      xx += size1 * x * x;
    }
    if (other > 0) {
      const size2 = scale * other * tieFactor(other, atRisk);
      const y = rest * x;
      yy += size2 * y * y;
      xy -= size2 * y * x;
      xx += size2 * x * x;
    }
    variance[k] = Math.max(0, yy + 2 * rest * xy + rest * rest * xx);
  }
  return variance;
}

function tieFactor(events: number, atRisk: number): number {
  return events > 1 ? 1 - (events - 1) / (atRisk - 1) : 1;
}
