import type { Plan } from '../../plan/plan.ts';
import { wilsonInterval } from '../../statistics/proportions/index.ts';
import type { StandardResult, Verdict } from '../standard-result.ts';

/**
 * Judges a share against its target. A share to be reached is met at or above its target, and not met where even the
 * upper Wilson limit is below it; a share to be kept under is met below its target, and not met where even the lower
 * limit reaches it. Anything else, and anything on fewer than `minimum`, is too few to say.
 */
export function verdictOn(
  count: number,
  n: number,
  { direction, target }: Pick<StandardResult, 'direction' | 'target'>,
  plan: Plan,
): Verdict {
  if (n === 0 || n < plan.audit.minimumToJudge) return 'too few to say';
  const { estimate, lower, upper } = wilsonInterval(count, n, { level: plan.level });
  const met = direction === 'at least' ? estimate >= target : estimate < target;
  if (met) return 'met';
  const missed = direction === 'at least' ? upper < target : lower >= target;
  return missed ? 'not met' : 'too few to say';
}
