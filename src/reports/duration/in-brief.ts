import { openingSentence } from '../cohort/in-brief.ts';
import type { Finding } from '../../analyses/finding.ts';
import type { DocumentFigure, Section } from '../document.ts';
import type { FindingsInput } from '../findings-document.ts';
import { sentences } from '../first-sentence.ts';

const MOST_SENTENCES = 5;

/**
 * The first page: at most five sentences and one figure. After the answer come the sentences of the model checks on the
 * distribution, since the size of the ratio can hang on it; the test of proportional hazards stands in its section.
 */
export function durationInBrief(
  { findings, flow, provenance }: FindingsInput,
  lead: DocumentFigure | undefined,
): Section {
  const said = (key: string): readonly string[] =>
    sentences(findings.find(finding => finding.key === key)?.statement ?? '');
  const checks = said('duration-model-checks');
  const items = [
    openingSentence(flow, provenance),
    ...said('severity-and-duration').slice(0, 1),
    ...(checks.length > 1 ? checks.slice(1, 3) : checks),
    ...said('duration-next-study').slice(-1),
  ];
  return {
    key: 'in-brief',
    title: 'What was found',
    blocks: [
      { kind: 'list', ordered: false, items: items.slice(0, MOST_SENTENCES) },
      ...(lead === undefined ? [] : [lead]),
    ],
    sections: [],
  };
}

/** The finding of a key, where the study has one. */
export function findingOf(findings: readonly Finding[], key: string): Finding | undefined {
  return findings.find(finding => finding.key === key);
}
