import type { Finding } from '../../analyses/finding.ts';
import { weekTicks } from '../../analyses/tools/week-ticks.ts';
import { statementWeek } from '../../analyses/time-to-correction/words.ts';
import { datingFigure } from '../../figures/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatPercent } from '../../wording/format.ts';
import type { Block } from '../document.ts';

/** Begins the keys of the curves that the figure below stands for. */
const SAME_IN_CURVES = 'visit-dated.';

/**
 * The share corrected as checkups date it beside the one that allows for the time between them, band by band. Nothing
 * where the finding has no plot of it.
 */
export function datingBlock(finding: Finding, plan: Plan): readonly Block[] {
  const plots = datingPlotsOf(finding);
  if (plots.length === 0) return [];
  const figure = datingFigure(plots, {
    key: `${finding.key}.dating`,
    title: titleOf(finding, plan) ?? 'Corrected as checkups date it, and between checkups',
    weekTicks: weekTicks(plan),
  });
  return [{ kind: 'figure', figure, caption: plots[0]?.reading ?? '' }];
}

/** The finding without the curves that are drawn beside the interval-censored estimates. */
export function withoutDatedCurves(finding: Finding): Finding {
  if (datingPlotsOf(finding).length === 0) return finding;
  return { ...finding, curves: finding.curves.filter(({ key }) => !key.startsWith(SAME_IN_CURVES)) };
}

function datingPlotsOf(finding: Finding) {
  return (finding.plots ?? []).filter(
    ({ key, series }) =>
      key.startsWith('dating.') &&
      series.some(({ key: name, x }) => name.startsWith('seen.') && (x.at(-1) ?? 0) > 0),
  );
}

/** The worst band at the week that the statement speaks of. */
function titleOf({ measures }: Finding, plan: Plan): string | undefined {
  const week = `week${statementWeek(plan)}`;
  const seen = measures.findLast(({ key }) => key.startsWith(`visit-dated.${week}.`));
  const between = measures.findLast(({ key }) => key.startsWith(`interval-censored.at-least.${week}.`));
  if (seen?.estimate === undefined || between?.estimate === undefined || seen.group !== between.group) {
    return undefined;
  }
  return `By week ${statementWeek(plan)} checkups had shown ${formatPercent(seen.estimate)} of ${seen.group ?? 'all'} feet corrected; allowing for the time between them, at least ${formatPercent(between.estimate)} were`;
}
