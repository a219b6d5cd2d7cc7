import type { Finding } from '../../analyses/finding.ts';
import { type CurveFamily, curveFamilies } from '../../figures/index.ts';
import { formatDate } from '../../wording/format.ts';
import type { DocumentFigure, ReportDocument, Section } from '../document.ts';
import {
  type AnalysisSectionOptions,
  analysisSection,
  type FamilyAxis,
  familyFigure,
  figureBlock,
} from '../parts/analysis-section.ts';
import type { FindingsInput } from '../findings-document.ts';
import { baselineSection } from '../parts/baseline-section.ts';
import { glossarySection } from '../parts/glossary-section.ts';
import { withFigures } from '../parts/insert-figures.ts';
import { observationalItems } from '../parts/observational-items.ts';
import { reportingItemsSection } from '../parts/reporting-items.ts';
import { flowSection } from '../parts/flow-section.ts';
import { planSection } from '../parts/plan-section.ts';
import { problemSection } from '../parts/problem-section.ts';
import { provenanceSection } from '../parts/provenance-section.ts';
import { disclosureCautions } from '../disclosure/words.ts';
import { COHORT_CAUTIONS } from './cautions.ts';
import { adherenceAxis, correctionAxis, relapseAxis } from './cohort-axes.ts';
import { cohortFigures } from './cohort-figures.ts';
import { withoutDatedCurves } from './dating-block.ts';
import { inBriefSection } from './in-brief.ts';
import { limitationsSection } from './limitations-section.ts';
import { methodsSection } from './methods-section.ts';

/** A question of the report: the finding that answers it, its heading, and the axis of its curves. */
interface Question {
  readonly key: string;
  readonly title: string;
  readonly axis: (finding: Finding) => (family: CurveFamily) => FamilyAxis;
}

const QUESTIONS: readonly Question[] = [
  { key: 'time-to-correction', title: 'Time to correction', axis: correctionAxis },
  { key: 'relapse-after-step-down', title: 'Relapse after a step-down', axis: () => relapseAxis },
  { key: 'adherence', title: 'Keeping to the hours', axis: () => adherenceAxis },
  { key: 'skin-safety', title: 'Skin', axis: () => adherenceAxis },
  { key: 'phase-occupancy', title: 'Phases of therapy, week by week', axis: () => adherenceAxis },
  { key: 'feet-like-this-one', title: 'Feet like this one', axis: () => adherenceAxis },
  { key: 'sensitivity', title: 'Sensitivity of the headline numbers', axis: () => adherenceAxis },
  { key: 'assessor-agreement', title: 'Agreement between assessors', axis: () => adherenceAxis },
];

/** Questions that ask how far the other answers hold. */
const CHECKS: readonly string[] = ['sensitivity', 'assessor-agreement'];

/**
 * The cohort report as a document: a pure function of findings, flow, provenance and plan. A question without a finding
 * has no section; the baseline table is the finding with the key `baseline`.
 */
export function cohortReport({ findings, flow, provenance, plan }: FindingsInput): ReportDocument {
  const answered = QUESTIONS.flatMap(question => {
    const finding = findings.find(candidate => candidate.key === question.key);
    if (finding === undefined) return [];
    return [{ ...question, finding, axis: upToLastWeek(question.axis(finding), plan.figures.lastWeek) }];
  });
  const lead = leadFigure(answered, plan.level);
  const shownElsewhere = new Map(
    lead === undefined ? [] : [[lead.figure.key, 'the figure on the first page']],
  );
  const baseline = findings.find(finding => finding.key === 'baseline');
  const body: readonly Section[] = [
    inBriefSection(
      answered.map(({ finding }) => finding),
      flow,
      provenance,
      lead,
    ),
    flowSection(flow),
    ...(baseline === undefined ? [] : [baselineSection(baseline)]),
    ...answered.map(({ finding, title, axis }) => {
      const options: AnalysisSectionOptions = {
        title,
        level: plan.level,
        axis,
        shownElsewhere,
      };
      return withFigures(analysisSection(withoutDatedCurves(finding), options), cohortFigures(finding, plan));
    }),
    problemSection(provenance),
    methodsSection(
      answered.map(({ finding }) => finding),
      plan,
    ),
    limitationsSection(),
    glossarySection({ models: true }),
  ];
  const closing: readonly Section[] = [
    provenanceSection(provenance, plan),
    planSection(plan, provenance.planSha256),
  ];
  const items = observationalItems({
    answers: answered.map(({ key }) => key).filter(key => !CHECKS.includes(key)),
    checks: CHECKS,
  });
  return {
    language: 'en',
    title: 'Cohort outcomes of forefoot brace therapy',
    subtitle: [provenance.service, `data up to ${formatDate(provenance.cutOff)}`]
      .filter(part => part !== undefined)
      .join(', '),
    caution: {
      ...COHORT_CAUTIONS,
      items: [...disclosureCautions(plan), ...COHORT_CAUTIONS.items],
    },
    sections: [...body, reportingItemsSection(items, [...body, ...closing]), ...closing],
    colophon: `Made with ${provenance.software} ${provenance.version}. The same export, plan and version give the same report.`,
  };
}

/** The axis of curves over weeks ends where the plan says, so that one long follow-up does not squeeze the others. */
function upToLastWeek(
  axis: (family: CurveFamily) => FamilyAxis,
  lastWeek: number,
): (family: CurveFamily) => FamilyAxis {
  return family =>
    family.curves.every(curve => curve.timeUnit === 'weeks')
      ? { ...axis(family), lastTime: lastWeek }
      : axis(family);
}

interface Answered {
  readonly finding: Finding;
  readonly axis: (family: CurveFamily) => FamilyAxis;
}

/** The first family of curves of the first question that has any. */
function leadFigure(answered: readonly Answered[], level: number): DocumentFigure | undefined {
  for (const { finding, axis } of answered) {
    const family = curveFamilies(finding.curves)[0];
    if (family !== undefined) {
      return figureBlock(familyFigure(finding, family, axis(family), level), family);
    }
  }
  return undefined;
}
