import type { Finding } from '../../analyses/finding.ts';
import type { FlowStep } from '../../cohort/cohort.ts';
import { formatCount, formatDate } from '../../wording/format.ts';
import type { Block, DocumentFigure, Section } from '../document.ts';
import { firstSentence } from '../first-sentence.ts';
import type { Provenance } from '../provenance.ts';

/** The first page: at most five sentences and one figure. */
export function inBriefSection(
  questions: readonly Finding[],
  flow: readonly FlowStep[],
  provenance: Provenance,
  figure: DocumentFigure | undefined,
): Section {
  const sentences = [
    openingSentence(flow, provenance),
    ...questions.slice(0, 4).map(finding => firstSentence(finding.statement)),
  ];
  const blocks: readonly Block[] = [
    { kind: 'list', ordered: false, items: sentences },
    ...(figure === undefined ? [] : [figure]),
  ];
  return { key: 'in-brief', title: 'What was found', blocks, sections: [] };
}

function openingSentence(flow: readonly FlowStep[], provenance: Provenance): string {
  const accepted = flow.find(step => step.key === 'accepted') ?? flow[0];
  const feet = formatCount(accepted?.counted.feet ?? 0);
  const infants = formatCount(accepted?.counted.infants ?? 0);
  const where = provenance.service === undefined ? '' : ` at ${provenance.service}`;
  return `Up to ${formatDate(provenance.cutOff)}, ${feet} feet of ${infants} infants were treated${where} and are described here.`;
}
