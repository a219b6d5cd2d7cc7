import { describe, expect, it } from 'vitest';
import type { Curve } from '../../src/analyses/finding.ts';
import { curveFigure } from '../../src/figures/index.ts';

/** By hand: two groups that step at different times; the second is followed for less long and has no early limit. */
const curves: readonly Curve[] = [
  {
    key: 'c.mild',
    group: 'mild',
    measure: 'Feet corrected',
    direction: 'climbs',
    timeUnit: 'weeks',
    time: [2, 6],
    estimate: [0.25, 0.5],
    lower: [0.1, 0.3],
    upper: [0.4, 0.7],
    riskTable: { time: [0, 6], atRisk: [8, 4], events: [0, 4], censored: [0, 0], competing: [0, 0] },
    n: 8,
    infants: 7,
  },
  {
    key: 'c.severe',
    group: 'severe',
    measure: 'Feet corrected',
    direction: 'climbs',
    timeUnit: 'weeks',
    time: [3],
    estimate: [0.1234],
    lower: [undefined],
    upper: [undefined],
    riskTable: { time: [0, 6], atRisk: [8, 0], events: [0, 1], censored: [0, 7], competing: [0, 0] },
    n: 8,
    infants: 8,
  },
];

describe('the values behind a figure of curves', () => {
  const { values } = curveFigure(curves, {
    key: 'c',
    timeTitle: 'Weeks since first fitting',
    unit: 'feet',
    level: 0.95,
  });

  it('stand at every step of any curve, and end with the follow-up of a group', () => {
    expect(values?.columns).toEqual([
      { label: 'Weeks since first fitting' },
      { label: 'Mild', unit: '%', group: 'mild' },
      { label: 'Severe', unit: '%', group: 'severe' },
    ]);
    expect(values?.rows).toEqual([
      { at: 0, cells: ['0.0', '0.0', '0.0'] },
      { at: 2, cells: ['2.0', '25.0 (10.0 to 40.0)', '0.0'] },
      { at: 3, cells: ['3.0', '25.0 (10.0 to 40.0)', '12.3'] },
      { at: 6, cells: ['6.0', '50.0 (30.0 to 70.0)', '\u2013'] },
    ]);
  });

  it('say where the plot lies in each width', () => {
    const { page, narrow } = values?.axis?.plot ?? {};
    expect(values?.axis?.domain).toEqual([0, 6]);
    expect((page?.left ?? 0) + (page?.width ?? 0)).toBeLessThan(680);
    expect((narrow?.left ?? 0) + (narrow?.width ?? 0)).toBeLessThan(400);
    expect(values?.axis?.clear).toBe('top');
  });
});
