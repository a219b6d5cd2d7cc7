import type { Finding } from '../../analyses/finding.ts';
import type { FlowLine } from '../parts/flow-section.ts';
import { formatCount, formatDate } from '../../wording/format.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import type { Block, DocumentFigure, Section } from '../document.ts';
import { firstSentence } from '../first-sentence.ts';
import type { Provenance } from '../provenance.ts';

/** The first page: at most five sentences and one figure. */
export function inBriefSection(
  questions: readonly Finding[],
  flow: readonly FlowLine[],
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

/** Who was treated, as far as it may be told. */
export function openingSentence(flow: readonly FlowLine[], provenance: Provenance): string {
  const accepted = flow.find(step => step.key === 'accepted') ?? flow[0];
  const where = provenance.service === undefined ? '' : ` at ${provenance.service}`;
  const [feet, infants] = [accepted?.feet ?? 0, accepted?.infants ?? 0];
  if (isHidden(feet) || isHidden(infants)) {
    return `The feet treated${where} up to ${formatDate(provenance.cutOff)} are described here; their number is too small, or too near to a small one, to be published.`;
  }
  return `Up to ${formatDate(provenance.cutOff)}, ${formatCount(feet)} feet of ${formatCount(infants)} infants were treated${where} and are described here.`;
}
