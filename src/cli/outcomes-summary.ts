import { rowsInAll } from '../reports/provenance.ts';
import type { FindingsInput } from '../reports/index.ts';
import { firstSentence, sentences } from '../reports/first-sentence.ts';
import { formatCount, formatDate } from '../wording/format.ts';

/** Findings of which the end of a run gives the first sentence; the others stand in the report. */
const SUMMED_UP: readonly string[] = [
  'baseline',
  'time-to-correction',
  'relapse-after-step-down',
  'adherence',
  'sensitivity',
  'severity-and-duration',
  'duration-model-checks',
  'duration-next-study',
  'audit',
  'audit-charts',
  'audit-comparison',
  'audit-overdue',
];

/**
 * The first sentence of a finding. Of the model checks also what they say of the distribution, since the time ratio that the
 * finding on duration names can hang on it.
 */
function summed(key: string, statement: string): readonly string[] {
  if (key !== 'duration-model-checks') return [firstSentence(statement)];
  const [first, ...rest] = sentences(statement);
  return [first, rest.join(' ')].filter((line): line is string => line !== undefined && line !== '');
}

/** What was read and what was found, in some eight lines, for the end of a run. */
export function outcomesSummary({ findings, flow, provenance }: FindingsInput): readonly string[] {
  const total = (field: 'read' | 'refused'): string => formatCount(rowsInAll(provenance, field));
  const accepted = flow.find(step => step.key === 'accepted');
  return [
    ...(provenance.service === undefined ? [] : [`Service: ${provenance.service}`]),
    `Data up to ${formatDate(provenance.cutOff)}: ${total('read')} rows read, ${total('refused')} refused`,
    `Accepted: ${formatCount(accepted?.feet ?? 0)} feet of ${formatCount(accepted?.infants ?? 0)} infants`,
    ...findings
      .filter(finding => SUMMED_UP.includes(finding.key))
      .flatMap(({ key, statement }) => summed(key, statement)),
    `Plan ${provenance.planSha256.slice(0, 12)}, ${provenance.software} ${provenance.version}`,
  ];
}
