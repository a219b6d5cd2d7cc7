import type { Plan } from '../../plan/plan.ts';
import { newcombeDifference, wilsonInterval } from '../../statistics/proportions/index.ts';
import type { StandardResult } from '../standard-result.ts';
import { countInfants } from '../tools/people.ts';
import type { Quarter } from './quarter.ts';
import { type AuditItem, counts, type Standard } from './standard.ts';
import { verdictOn } from './verdict.ts';

/** What came under a standard in one quarter. */
export function itemsOf(standard: Standard, ordinal: number): readonly AuditItem[] {
  return standard.items.filter(item => item.quarter === ordinal);
}

/** How a standard stood in a quarter, with the change on the quarter before. */
export function standardResult(standard: Standard, quarter: Quarter, plan: Plan): StandardResult {
  const items = itemsOf(standard, quarter.ordinal);
  const before = itemsOf(standard, quarter.ordinal - 1);
  const counted = (of: readonly AuditItem[]): number => of.filter(item => counts(standard, item)).length;
  const count = counted(items);
  const { key, title, direction, target } = standard;
  const level = { level: plan.level };
  return {
    key,
    title,
    direction,
    target,
    count,
    n: items.length,
    infants: countInfants(items),
    ...(items.length > 0 ? { share: wilsonInterval(count, items.length, level) } : {}),
    verdict: verdictOn(count, items.length, standard, plan),
    ...(items.length > 0 && before.length > 0
      ? { change: newcombeDifference(count, items.length, counted(before), before.length, level) }
      : {}),
  };
}
