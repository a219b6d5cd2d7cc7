import { stringify } from 'yaml';
import type { Plan } from './plan.ts';

/** A plan as YAML with every field, which `readPlan` reads back to the same plan. */
export function planDocument(plan: Plan): string {
  return stringify(plan, { lineWidth: 0 });
}
