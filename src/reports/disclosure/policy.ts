import type { Plan } from '../../plan/plan.ts';
import { fewerThan, type HiddenCount } from '../../wording/hidden-count.ts';

/** What may not be published. */
export interface DisclosurePolicy {
  /** Counts from 1 to one less than this are not published; 0 is. */
  readonly below: number;
  /** Curves end where fewer than this are at risk. */
  readonly atRisk: number;
}

/** The policy of a plan, or nothing where the plan turns it off: below 2 there is no small count to hide. */
export function disclosurePolicy({ disclosure }: Plan): DisclosurePolicy | undefined {
  if (disclosure.suppressBelow < 2) return undefined;
  return {
    below: disclosure.suppressBelow,
    atRisk: Math.max(disclosure.curveAtRisk, disclosure.suppressBelow),
  };
}

export function isSmall(count: number, { below }: DisclosurePolicy): boolean {
  return count > 0 && count < below;
}

/** What stands in the place of a small count. */
export function smallName({ below }: DisclosurePolicy): HiddenCount {
  return fewerThan(below);
}

/** Whether a share of n, read back as a count, is small or leaves a small rest; half a foot of leeway for censoring. */
export function isSmallShare(share: number, n: number, policy: DisclosurePolicy): boolean {
  const near = (count: number): boolean => count > 1e-9 && count < policy.below - 0.5;
  return near(share * n) || near((1 - share) * n);
}
