import type { Finding } from '../../analyses/finding.ts';
import { curveFamilies } from '../../figures/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatDate } from '../../wording/format.ts';
import { methodsSection } from '../cohort/methods-section.ts';
import type { Block, DocumentFigure, ReportDocument, Section } from '../document.ts';
import type { FindingsInput } from '../findings-document.ts';
import { analysisSection, type FamilyAxis, familyFigure, figureBlock } from '../parts/analysis-section.ts';
import { baselineSection } from '../parts/baseline-section.ts';
import { comparisonFigure, panelFigure } from '../parts/effect-figures.ts';
import { flowSection } from '../parts/flow-section.ts';
import { glossarySection } from '../parts/glossary-section.ts';
import { withFigures } from '../parts/insert-figures.ts';
import { observationalItems } from '../parts/observational-items.ts';
import { planSection } from '../parts/plan-section.ts';
import { plotFigures } from '../parts/plot-figures.ts';
import { problemSection } from '../parts/problem-section.ts';
import { provenanceSection } from '../parts/provenance-section.ts';
import { reportingItemsSection } from '../parts/reporting-items.ts';
import { disclosureCautions } from '../disclosure/words.ts';
import { DURATION_CAUTIONS, durationLimitations } from './cautions.ts';
import { durationInBrief, findingOf } from './in-brief.ts';

const ANSWER = 'severity-and-duration';
const CHECKS = ['duration-model-checks', 'duration-missing-findings'] as const;

/**
 * The study of severity and total duration as a document: a pure function of the findings of `analyseDuration` (and of
 * `baseline`, for the description), flow, provenance and plan. A part without a finding has no section.
 */
export function durationReport(input: FindingsInput): ReportDocument {
  const { findings, flow, provenance, plan } = input;
  const lead = leadFigure(findingOf(findings, ANSWER), plan);
  const baseline = findingOf(findings, 'baseline');
  const body: readonly Section[] = [
    durationInBrief(input, lead),
    flowSection(flow),
    ...(baseline === undefined ? [] : [baselineSection(baseline)]),
    ...partOf(findings, ANSWER, 'Severity and total duration', plan, lead, answerFigures),
    ...competingEnds(findingOf(findings, ANSWER), plan.level, lead),
    ...partOf(findings, CHECKS[0], 'Do the models fit?', plan, lead, (finding, level) => [
      ...distributionFigure(findingOf(findings, ANSWER), finding, level),
      ...plotFigures(finding, level),
    ]),
    ...partOf(findings, CHECKS[1], 'Missing findings', plan, lead, everyPanel),
    ...partOf(findings, 'duration-next-study', 'The next study', plan, lead, everyPanel),
    problemSection(provenance),
    methodsSection(
      findings.filter(({ key }) => key !== 'baseline'),
      plan,
    ),
    durationLimitations(),
    glossarySection({ models: true }),
  ];
  const closing: readonly Section[] = [
    provenanceSection(provenance, plan),
    planSection(plan, provenance.planSha256),
  ];
  const items = observationalItems({ answers: [ANSWER, 'competing-ends'], checks: CHECKS });
  return {
    language: 'en',
    title: 'Severity and total duration of forefoot brace therapy',
    subtitle: [provenance.service, `data up to ${formatDate(provenance.cutOff)}`]
      .filter(part => part !== undefined)
      .join(', '),
    caution: { ...DURATION_CAUTIONS, items: [...disclosureCautions(plan), ...DURATION_CAUTIONS.items] },
    sections: [...body, reportingItemsSection(items, [...body, ...closing]), ...closing],
    colophon: `Made with ${provenance.software} ${provenance.version}. The same export, plan and version give the same report.`,
  };
}

/** The section of one finding with its own figures. */
function partOf(
  findings: readonly Finding[],
  key: string,
  title: string,
  plan: Plan,
  lead: DocumentFigure | undefined,
  figures: (finding: Finding, level: number) => readonly Block[],
): readonly Section[] {
  const finding = findingOf(findings, key);
  if (finding === undefined) return [];
  const section = analysisSection(finding, {
    title,
    level: plan.level,
    axis: () => axisOf(plan),
    ...(lead === undefined
      ? {}
      : { shownElsewhere: new Map([[lead.figure.key, 'the figure on the first page']]) }),
  });
  return [withFigures(section, figures(finding, plan.level))];
}

function axisOf(plan: Plan): FamilyAxis {
  return { timeTitle: 'Weeks since first fitting', unit: 'feet', lastTime: plan.figures.lastWeek };
}

/** The first family of curves of the answer. */
function leadFigure(finding: Finding | undefined, plan: Plan): DocumentFigure | undefined {
  const family = curveFamilies(finding?.curves ?? [])[0];
  if (finding === undefined || family === undefined) return undefined;
  return figureBlock(familyFigure(finding, family, axisOf(plan), plan.level), family);
}

function panelsOf(finding: Finding): readonly string[] {
  return [...new Set((finding.effects ?? []).map(({ panel }) => panel))];
}

/** What a panel is about shows in the keys of its lines: `cox.adjusted.age`, `fine-gray.crude.band.severe`. */
function panelsWith(finding: Finding, prefix: string): readonly string[] {
  return [
    ...new Set((finding.effects ?? []).filter(({ key }) => key.startsWith(prefix)).map(({ panel }) => panel)),
  ];
}

function everyPanel(finding: Finding, level: number): readonly Block[] {
  return panelsOf(finding).flatMap(panel => panelFigure(finding, panel, level));
}

/** The adjusted ratios of duration, then those of the hazard; the crude ones stand in the tables. */
function answerFigures(finding: Finding, level: number): readonly Block[] {
  const figures = ['time.adjusted.', 'cox.adjusted.']
    .flatMap(prefix => panelsWith(finding, prefix))
    .flatMap(panel => panelFigure(finding, panel, level));
  if (figures.length > 0) return figures;
  return [{ kind: 'paragraph', text: 'No forest is drawn, since no adjusted model could be fitted.' }];
}

/** The worst band by every distribution, the planned one first, so that a reader sees what hangs on the choice. */
function distributionFigure(answer: Finding | undefined, checks: Finding, level: number): readonly Block[] {
  const planned = (answer?.effects ?? []).filter(({ key }) => key.startsWith('time.adjusted.band.'));
  const others = (checks.effects ?? []).filter(({ key }) => key.includes('.adjusted.band.'));
  const worst = planned.at(-1) ?? others.at(-1);
  if (worst === undefined) return [];
  const lines = [...planned, ...others].filter(({ label }) => label === worst.label);
  const title = `Total duration of ${worst.label.toLowerCase()} against ${worst.reference} feet, by distribution`;
  return comparisonFigure(checks, 'by-distribution', title, lines, level);
}

function competingEnds(
  finding: Finding | undefined,
  level: number,
  lead: DocumentFigure | undefined,
): readonly Section[] {
  if (finding === undefined) return [];
  const forests = panelsWith(finding, 'fine-gray.adjusted.').flatMap(panel =>
    panelFigure(finding, panel, level),
  );
  const shares: readonly Block[] =
    lead === undefined
      ? []
      : [
          {
            kind: 'paragraph',
            text: [
              'The share that finished by each week, with the other ends under its axis, is in ',
              {
                kind: 'reference',
                target: { kind: 'figure', key: lead.figure.key },
                text: 'the first figure',
              },
              '.',
            ],
          },
        ];
  return [
    {
      key: 'competing-ends',
      title: 'Other ends of therapy',
      blocks: [
        {
          kind: 'paragraph',
          text: [
            'A foot that is referred or withdrawn can no longer finish therapy. The hazard ratios above speak of feet still in therapy; the ratios here of the share of all feet that finish',
            { kind: 'citation', keys: ['fine-gray-1999'] },
            '.',
          ],
        },
        ...shares,
        ...(forests.length > 0
          ? forests
          : [
              {
                kind: 'paragraph',
                text: 'No forest is drawn, since no model of the share could be fitted.',
              } as const,
            ]),
      ],
      sections: [],
    },
  ];
}
