import type { Finding } from '../analyses/finding.ts';
import type { Plan } from '../plan/plan.ts';
import { canonicalJson } from './canonical-json.ts';
import type { FlowLine } from './parts/flow-section.ts';
import type { Provenance } from './provenance.ts';

/** All that a report says, as data: what `findings.json` holds. */
export interface FindingsDocument {
  readonly version: 1;
  readonly provenance: Provenance;
  readonly plan: Plan;
  readonly flow: readonly FlowLine[];
  readonly findings: readonly Finding[];
}

/** What the findings of one export come to, with no episode in it. */
export interface FindingsInput {
  readonly findings: readonly Finding[];
  readonly flow: readonly FlowLine[];
  readonly provenance: Provenance;
  readonly plan: Plan;
}

export function findingsDocument({ findings, flow, provenance, plan }: FindingsInput): FindingsDocument {
  return { version: 1, provenance, plan, flow, findings };
}

/** `findings.json`: keys in order, numbers at full precision, a line end at the end. */
export function findingsJson(input: FindingsInput): string {
  return canonicalJson(findingsDocument(input));
}
