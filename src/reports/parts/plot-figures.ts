import type { Finding } from '../../analyses/finding.ts';
import { plotFigure } from '../../figures/index.ts';
import type { Block } from '../document.ts';

/** The plots of a finding with the words that say how to read each; a sentence where there is none. */
export function plotFigures(finding: Finding, level: number): readonly Block[] {
  const plots = (finding.plots ?? []).filter(({ series }) => series.some(({ x }) => x.length > 0));
  if (plots.length === 0) {
    return [{ kind: 'paragraph', text: 'No plot is drawn, since no model could be fitted.' }];
  }
  return plots.map(plot => ({
    kind: 'figure',
    figure: plotFigure(plot, { key: `${finding.key}.${plot.key}`, level }),
    caption: plot.reading,
  }));
}
