import type { Count, HiddenCount } from '../../analyses/finding.ts';
import type { CoarseCurve } from './coarsen-curve.ts';
import type { DisclosurePolicy } from './policy.ts';

/** What may not be published, for one finding. */
export interface Hiding {
  readonly policy: DisclosurePolicy;
  /** What stands in the place of a count, if it is hidden. */
  readonly nameAt: (path: string) => HiddenCount | undefined;
  /** The curves of the finding by key. */
  readonly curves: ReadonlyMap<string, CoarseCurve>;
  /** Heights of its curves that may not be quoted. */
  readonly heights: ReadonlySet<number>;
}

/** The count, or the name that stands in its place. */
export function shownCount(hiding: Hiding, path: string, count: Count): Count {
  return hiding.nameAt(path) ?? count;
}

/** Whether a number that is 0 or all would tell nothing of a hidden height. */
export function isHiddenHeight({ heights }: Hiding, value: number | undefined): boolean {
  return value !== undefined && value !== 0 && value !== 1 && heights.has(value);
}
