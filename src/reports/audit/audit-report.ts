import type { Finding } from '../../analyses/finding.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatCount, formatDate, formatLevel } from '../../wording/format.ts';
import { questionMethods } from '../cohort/methods-section.ts';
import type { Block, DocumentFigure, ReportDocument, Section, Text } from '../document.ts';
import { disclosureCautions, disclosureMethods } from '../disclosure/words.ts';
import type { FindingsInput } from '../findings-document.ts';
import { firstSentence } from '../first-sentence.ts';
import { analysisSection } from '../parts/analysis-section.ts';
import { withFigures } from '../parts/insert-figures.ts';
import { planSection } from '../parts/plan-section.ts';
import { problemSection } from '../parts/problem-section.ts';
import { provenanceSection } from '../parts/provenance-section.ts';
import { actionSection } from './action-table.ts';
import { chartFigures, funnelFigures, standardsFigure } from './audit-figures.ts';
import { auditLimitations } from './audit-limitations.ts';
import { AUDIT_CAUTIONS } from './cautions.ts';

interface Part {
  readonly key: string;
  readonly title: string;
  readonly figures: (finding: Finding) => readonly Block[];
}

const PARTS: readonly Part[] = [
  { key: 'audit', title: 'Standards', figures: () => [standardsReference()] },
  { key: 'audit-charts', title: 'Change over the quarters', figures: chartFigures },
  { key: 'audit-comparison', title: 'Sites and clinicians', figures: funnelFigures },
  { key: 'audit-overdue', title: 'Overdue checkups', figures: () => [] },
];

/**
 * The quarterly audit as a document: a pure function of the findings of `analyseAudit`, provenance and plan. A part
 * without a finding has no section.
 */
export function auditReport({ findings, provenance, plan }: FindingsInput): ReportDocument {
  const answered = PARTS.flatMap(part => {
    const finding = findings.find(candidate => candidate.key === part.key);
    return finding === undefined ? [] : [{ ...part, finding }];
  });
  const parts = answered.map(({ finding }) => finding);
  const standards = parts.find(({ key }) => key === 'audit');
  const lead = standards === undefined ? undefined : standardsFigure(standards, plan.level);
  const quarter = standards?.period?.name;
  return {
    language: 'en',
    title: 'Quarterly audit of forefoot brace therapy',
    subtitle: [quarter, provenance.service, `data up to ${formatDate(provenance.cutOff)}`]
      .filter(part => part !== undefined)
      .join(', '),
    caution: { ...AUDIT_CAUTIONS, items: [...disclosureCautions(plan), ...AUDIT_CAUTIONS.items] },
    sections: [
      inBrief(parts, standards, lead),
      ...answered.map(({ finding, title, figures }) => {
        // Without a lead figure there is nothing to refer to.
        const blocks = finding === standards && lead === undefined ? [] : figures(finding);
        return withFigures(sectionOf(finding, title, plan.level), blocks);
      }),
      actionSection(parts),
      problemSection(provenance),
      methods(parts, plan),
      auditLimitations(),
      provenanceSection(provenance, plan),
      planSection(plan, provenance.planSha256),
    ],
    colophon: `Made with ${provenance.software} ${provenance.version}. The same export, plan, quarter and version give the same report.`,
  };
}

/** The first page: at most five sentences and one figure. */
function inBrief(
  parts: readonly Finding[],
  standards: Finding | undefined,
  lead: DocumentFigure | undefined,
): Section {
  const opening = standards === undefined ? [] : [openingSentence(standards)];
  const items: readonly Text[] = [
    ...opening,
    ...parts.slice(0, 4).map(finding => firstSentence(finding.statement)),
  ];
  return {
    key: 'in-brief',
    title: 'What was found',
    blocks: [{ kind: 'list', ordered: false, items }, ...(lead === undefined ? [] : [lead])],
    sections: [],
  };
}

function openingSentence({ period, population }: Finding): string {
  const dates =
    period === undefined ? '' : `, ${formatDate(period.firstDay)} to ${formatDate(period.lastDay)}`;
  return `This is the audit of ${period?.name ?? 'the quarter'}${dates}, in which something fell due for ${formatCount(population.feet)} feet of ${formatCount(population.infants)} infants.`;
}

function sectionOf(finding: Finding, title: string, level: number): Section {
  return analysisSection(finding, {
    title,
    level,
    axis: () => ({ timeTitle: 'Weeks since first fitting', unit: 'feet' }),
  });
}

function standardsReference(): Block {
  return {
    kind: 'paragraph',
    text: [
      'Each standard against its target: see ',
      {
        kind: 'reference',
        target: { kind: 'figure', key: 'audit.standards' },
        text: 'the figure on the first page',
      },
      '.',
    ],
  };
}

function methods(parts: readonly Finding[], plan: Plan): Section {
  return {
    key: 'methods',
    title: 'Methods',
    blocks: [
      {
        kind: 'list',
        ordered: false,
        items: [
          `Intervals are ${formatLevel(plan.level)} intervals and take feet as independent.`,
          'A foot, spell or event counts in the quarter in which what is asked fell due, so that no quarter is judged on what could not have happened yet.',
          'Dates are calendar dates. Weeks have seven days.',
          ...disclosureMethods(plan),
        ],
      },
    ],
    sections: questionMethods(parts),
  };
}
