import { describe, expect, it } from 'vitest';
import type { Curve } from '../../../src/analyses/finding.ts';
import { curveDescription, curveTitle } from '../../../src/figures/curve-words.ts';
import { THIN_SPACE } from '../../../src/wording/format.ts';
import { coarsenCurve } from '../../../src/reports/disclosure/coarsen-curve.ts';

/** Twelve of forty by week 10, three of them in week 9: the height at week 8 would tell of the three, so it may not be told. */
const CURVE: Curve = {
  key: 'incidence.mild',
  group: 'mild',
  measure: 'Feet corrected',
  direction: 'climbs',
  timeUnit: 'weeks',
  time: [0, 3, 6, 9, 10, 11],
  estimate: [0, 0.1, 0.2, 0.275, 0.3, 0.3],
  lower: [0, 0.04, 0.1, 0.16, 0.18, 0.18],
  upper: [0, 0.22, 0.34, 0.42, 0.45, 0.45],
  riskTable: {
    time: [0, 4, 8, 12],
    atRisk: [40, 36, 32, 20],
    events: [0, 4, 8, 12],
    censored: [0, 0, 0, 8],
    competing: [0, 0, 0, 0],
  },
  n: 40,
  infants: 35,
  steps: { events: [0, 4, 4, 3, 1, 0], atRisk: [40, 40, 36, 32, 29, 20] },
};
const POLICY = { below: 5, atRisk: 5 };

describe('the words of a curve whose steps were joined', () => {
  const drawn = coarsenCurve(CURVE, [8, 10], POLICY).curve;
  if (drawn === undefined) throw new Error('the curve can be drawn');

  it('name heights only where the curve as drawn is the curve itself', () => {
    for (const time of drawn.quotable ?? []) {
      const truth = CURVE.estimate[CURVE.time.findLastIndex(step => step <= time)];
      expect(drawn.estimate[drawn.time.findLastIndex(step => step <= time)]).toBe(truth);
    }
    expect(drawn.quotable).not.toContain(4);
    // By the true curve 10 % at week 4; as drawn it would still be 0 %.
    expect(curveDescription('Title', [CURVE], 'feet', 0.95)).toContain(
      `10 (4 to 22)${THIN_SPACE}% at week 4`,
    );
    expect(curveDescription('Title', [drawn], 'feet', 0.95)).not.toContain('at week 4');
  });

  it('name no height where none but the first can be told, nor limits of nothing', () => {
    const early = { ...drawn, quotable: [0] };
    expect(curveTitle([early])).toBe('Feet corrected, over time');
    const still = { ...drawn, quotable: [4] };
    expect(curveTitle([still])).toBe('Feet corrected, over time');
    expect(curveDescription('Title', [still], 'feet', 0.95)).toContain(`: 0${THIN_SPACE}% at week 4.`);
  });
});
