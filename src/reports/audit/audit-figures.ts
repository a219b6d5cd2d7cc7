import type { Finding } from '../../analyses/finding.ts';
import { controlChartFigure, type Figure, funnelFigure, intervalBarFigure } from '../../figures/index.ts';
import { formatCount } from '../../wording/format.ts';
import type { Block, DocumentFigure } from '../document.ts';

/** The standards against their targets, with a title that says how many were met. */
export function standardsFigure(finding: Finding, level: number): DocumentFigure | undefined {
  const results = finding.standards ?? [];
  const judged = results.filter(({ n }) => n > 0);
  if (judged.length === 0) return undefined;
  const met = judged.filter(({ verdict }) => verdict === 'met').length;
  const missed = judged.filter(({ verdict }) => verdict === 'not met').length;
  const title = `Of the ${formatCount(judged.length)} standards shown, ${formatCount(met)} ${met === 1 ? 'was' : 'were'} met in ${finding.period?.name ?? 'the quarter'} and ${formatCount(missed)} ${missed === 1 ? 'was' : 'were'} not`;
  const figure = intervalBarFigure(results, { key: `${finding.key}.standards`, title, level });
  return captioned(
    figure,
    'A diamond is a standard not met, a hollow dot one with too few to say. Of loss to follow-up little is wanted.',
  );
}

/** The control chart of every measure, the rate of blisters and sores first. */
export function chartFigures(finding: Finding): readonly Block[] {
  const charts = finding.quarterCharts ?? [];
  const rates = charts.filter(({ kind }) => kind === 'rate');
  const shares = charts.filter(({ kind }) => kind === 'proportion');
  const figures = [...rates, ...shares].map(chart =>
    captioned(
      controlChartFigure(chart, { key: `${finding.key}.${chart.key}` }),
      chart.kind === 'rate'
        ? 'Limits by the foot-weeks of each quarter.'
        : 'Limits by the number that fell due in each quarter. A quarter has no point where too few fell due, or where a small number is hidden: often that of a quarter in which nearly all was well.',
    ),
  );
  if (figures.length === 0) return [];
  return [
    {
      kind: 'paragraph',
      text: 'A diamond marks a quarter in which a rule fired; the label above it names the rule. Sigma is the standard error of one quarter.',
    },
    ...figures,
  ];
}

/** A funnel for every standard on which somebody lies outside the limits. */
export function funnelFigures(finding: Finding): readonly Block[] {
  const funnels = (finding.funnels ?? []).filter(({ units }) =>
    units.some(unit => unit.beyond !== undefined),
  );
  if (funnels.length === 0) {
    return [
      {
        kind: 'paragraph',
        text: 'No funnel is drawn, since no site or clinician lies outside the limits of any standard.',
      },
    ];
  }
  const period = finding.period?.name ?? 'the period';
  return funnels.map(funnel =>
    captioned(
      funnelFigure(funnel, { key: `${finding.key}.${funnel.key}`, period }),
      'Dashed: 95 % limits; solid: 99.8 % limits, drawn smooth between counts. Whether somebody lies outside is settled by the exact probability of the count.',
    ),
  );
}

function captioned(figure: Figure, caption: string): DocumentFigure {
  return { kind: 'figure', figure, caption };
}
