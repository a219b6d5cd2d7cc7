import type { Finding } from '../../analyses/finding.ts';
import {
  type CurveFamily,
  type CurveUnit,
  curveFamilies,
  curveFigure,
  type Figure,
} from '../../figures/index.ts';
import { formatCount } from '../../wording/format.ts';
import { mayBeSome } from '../../wording/hidden-count.ts';
import type { Block, DocumentFigure, Section } from '../document.ts';
import { firstSentence } from '../first-sentence.ts';
import { findingTable, measureTable } from './finding-table.ts';
import { testTable } from './test-table.ts';

/** How the curves of one family are drawn. */
export interface FamilyAxis {
  readonly timeTitle: string;
  readonly unit: CurveUnit;
  /** Where the drawing ends; the curves and tables of the finding go on to the last follow-up. */
  readonly lastTime?: number;
  /** States the finding; by default made from the curves. */
  readonly title?: string;
}

export interface AnalysisSectionOptions {
  readonly title: string;
  readonly level: number;
  readonly axis: (family: CurveFamily) => FamilyAxis;
  /** Figures that stand elsewhere in the report, with the words that lead there. */
  readonly shownElsewhere?: ReadonlyMap<string, string>;
}

/** One question: the answer in plain words, its figures, its tables, whom it leaves out, and what limits it. */
export function analysisSection(finding: Finding, options: AnalysisSectionOptions): Section {
  const tables =
    finding.tables.length > 0
      ? finding.tables.map(table => findingTable(finding, table, options.level))
      : finding.measures.length > 0
        ? [measureTable(finding, options.level)]
        : [];
  return {
    key: finding.key,
    title: options.title,
    blocks: [
      { kind: 'paragraph', text: [{ kind: 'emphasis', text: finding.question }] },
      ...statementBlocks(finding.statement),
      ...figureBlocks(finding, options),
      ...tables,
      ...(finding.tests.length > 0 ? [testTable(finding)] : []),
      ...populationBlocks(finding),
      ...cautionBlocks(finding),
    ],
    sections: [],
  };
}

/** The figure of one family of curves of a finding. */
export function familyFigure(finding: Finding, family: CurveFamily, axis: FamilyAxis, level: number): Figure {
  return curveFigure(family.curves, { key: `${finding.key}.${family.key}`, level, ...axis });
}

/** A figure with its caption: what the bands and the table under the axis are. */
export function figureBlock(figure: Figure, family: CurveFamily): DocumentFigure {
  const competing = family.curves.some(curve => curve.riskTable.competing.some(mayBeSome));
  const ends = competing ? 'events, other ends and censored' : 'events and censored';
  return {
    kind: 'figure',
    figure,
    caption: `${figure.subtitle}. Under the axis: at risk just before each tick; ${ends} before it.`,
  };
}

function figureBlocks(finding: Finding, options: AnalysisSectionOptions): readonly Block[] {
  return curveFamilies(finding.curves).map((family): Block => {
    const figure = familyFigure(finding, family, options.axis(family), options.level);
    const elsewhere = options.shownElsewhere?.get(figure.key);
    if (elsewhere === undefined) return figureBlock(figure, family);
    const target = { kind: 'figure', key: figure.key } as const;
    return {
      kind: 'paragraph',
      text: [
        `${family.curves[0]?.measure ?? 'The curves'}: see `,
        { kind: 'reference', target, text: elsewhere },
        '.',
      ],
    };
  });
}

/** The first sentence carries the answer; what follows is plain text. */
function statementBlocks(statement: string): readonly Block[] {
  const first = firstSentence(statement);
  const rest = statement.trim().slice(first.length).trim();
  return [
    { kind: 'statement', text: first },
    ...(rest === '' ? [] : [{ kind: 'paragraph', text: rest } as const]),
  ];
}

function populationBlocks(finding: Finding): readonly Block[] {
  const { feet, infants, leftOut } = finding.population;
  const analysed = `Analysed: ${formatCount(feet)} feet of ${formatCount(infants)} infants.`;
  if (leftOut.length === 0) return [{ kind: 'note', text: `${analysed} None was left out.` }];
  const reasons = leftOut.map(
    group => `${group.reason}, ${formatCount(group.feet)} feet of ${formatCount(group.infants)} infants`,
  );
  return [{ kind: 'note', text: `${analysed} Left out: ${reasons.join('; ')}.` }];
}

function cautionBlocks(finding: Finding): readonly Block[] {
  if (finding.cautions.length === 0) return [];
  return [
    { kind: 'paragraph', text: [{ kind: 'strong', text: 'What limits this answer' }] },
    { kind: 'list', ordered: false, items: finding.cautions },
  ];
}
