import type { Plan } from '../../plan/plan.ts';
import { disclosurePolicy } from './policy.ts';

/** For the first page, where small numbers are shown: nothing otherwise. */
export function disclosureCautions(plan: Plan): readonly string[] {
  return disclosurePolicy(plan) === undefined
    ? [
        'Small numbers are shown. The report is for use within the service and must not leave it as it stands.',
      ]
    : [];
}

/** For the methods: what is hidden, and how it reads. */
export function disclosureMethods(plan: Plan): readonly string[] {
  const policy = disclosurePolicy(plan);
  if (policy === undefined) return [];
  return [
    `Counts from 1 to ${policy.below - 1} are not published; nor is any number from which they could be worked out. In their place stands \u201Cfewer than ${policy.below}\u201D or \u201Cwithheld\u201D, in figures <${policy.below} or [c]. A withheld number can be small or great. Curves end where fewer than ${policy.atRisk} are at risk, and each of their steps holds at least ${policy.below} events.`,
  ];
}
