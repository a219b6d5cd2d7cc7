import { describe, expect, it } from 'vitest';
import type { QuarterChart } from '../../../src/analyses/quarter-chart.ts';
import { attack, protectFindings } from '../../../src/reports/index.ts';
import { findingsJson } from '../../../src/reports/findings-document.ts';
import { findingOf, inputOf } from './findings.ts';

/** Photographs of quarters: the seventh, of which one is missing, is hidden, and so is the fifth. */
const COUNTS = [20, 18, 22, 19, 33, 21, 36];
const SIZES = [30, 29, 31, 28, 36, 30, 37];

function chartUpTo(quarters: number): QuarterChart {
  const counts = COUNTS.slice(0, quarters);
  const sizes = SIZES.slice(0, quarters);
  const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0);
  return {
    key: 'photograph',
    title: 'Photograph taken',
    kind: 'proportion',
    unit: 'of 1',
    quarters: counts.map((_, i) => `Q${i + 1}`),
    points: counts.map((count, place) => {
      const size = sizes[place] ?? 0;
      return { place, count, size, value: count / size, lower: 0.4, upper: 1 };
    }),
    centre: sum(counts) / sum(sizes),
    ruleSet: 'western-electric',
    signals: [],
    median: 0.7,
    shift: 8,
    shifts: [],
  };
}

const inputUpTo = (quarters: number) => inputOf([findingOf({ quarterCharts: [chartUpTo(quarters)] })]);

describe('two audits in turn', () => {
  const [before, after] = [6, 7].map(inputUpTo) as [
    ReturnType<typeof inputUpTo>,
    ReturnType<typeof inputUpTo>,
  ];
  const chartOf = (input: typeof before) => protectFindings(input).findings[0]?.quarterCharts?.[0];

  it('do not give a hidden quarter by their means', () => {
    const [first, second] = [chartOf(before), chartOf(after)];
    expect(second?.points.map(({ place }) => place)).not.toContain(6);
    const sizes = (n: number) => SIZES.slice(0, n).reduce((sum, size) => sum + size, 0);
    // To the last digit the means would give 36 of 37.
    const truth = chartUpTo(7).centre * sizes(7) - chartUpTo(6).centre * sizes(6);
    expect(truth).toBeCloseTo(36, 9);
    const step = 0.05;
    expect([first?.centre, second?.centre]).toEqual([0.7, 0.75]);
    expect(step * sizes(7)).toBeGreaterThan(5);
  });

  it('leave no chart of fewer quarters than one needs', () => {
    const short = inputUpTo(4);
    const { plan } = short;
    const asked = { ...short, plan: { ...plan, audit: { ...plan.audit, chartMinimumQuarters: 5 } } };
    expect(chartOf(short)?.points.length).toBe(4);
    expect(protectFindings(asked).findings[0]?.quarterCharts).toEqual([]);
  });

  it('are refused where a mean stands to its last digit', () => {
    const open = protectFindings(after);
    const [finding] = open.findings;
    const [chart] = finding?.quarterCharts ?? [];
    if (finding === undefined || chart === undefined) throw new Error('a chart is drawn');
    const told = {
      ...open,
      findings: [{ ...finding, quarterCharts: [{ ...chart, centre: chartUpTo(7).centre }] }],
    };
    const file = (input: typeof open) => [{ path: 'findings.json', text: findingsJson(input) }];
    expect(attack(file(open), after)).toEqual([]);
    expect(attack(file(told), after)).toEqual([
      `${finding.key}/chart/photograph: the mean of hidden quarters`,
    ]);
  });
});
