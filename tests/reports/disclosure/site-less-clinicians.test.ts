import { describe, expect, it } from 'vitest';
import type { FunnelUnit, UnitFunnel } from '../../../src/analyses/unit-funnel.ts';
import { protectFunnels, untold } from '../../../src/reports/disclosure/protect-audit.ts';

const limits = { lower: 0.6, upper: 1 };
const unit = (
  kind: FunnelUnit['kind'],
  code: string,
  count: number,
  n: number,
  site?: string,
): FunnelUnit => ({
  kind,
  code,
  count,
  n,
  value: count / n,
  inner: limits,
  outer: limits,
  ...(site === undefined ? {} : { site }),
});
const codes = (units: readonly FunnelUnit[]) => units.map(({ code }) => code);
const policy = { below: 5, atRisk: 5 };
const site = unit('site', 'north', 33, 39);
const other = unit('site', 'south', 40, 60);

describe('a site less those of its clinicians that are shown', () => {
  it('does not tell of the one that is not: one missed of 15', () => {
    const units = [site, other, unit('clinician', 'c2', 19, 24, 'north')];
    expect(codes(untold(units, policy))).toEqual(['north', 'south']);
  });

  it('may leave enough of the others, or nobody', () => {
    const enough = [unit('site', 'north', 60, 80), other, unit('clinician', 'c2', 40, 50, 'north')];
    expect(untold(enough, policy)).toEqual(enough);
    const all = [
      site,
      other,
      unit('clinician', 'c1', 14, 15, 'north'),
      unit('clinician', 'c2', 19, 24, 'north'),
    ];
    expect(untold(all, policy)).toEqual(all);
  });

  it('takes out the smallest first, and keeps those of other sites and of several', () => {
    const units = [
      unit('site', 'north', 70, 100),
      other,
      unit('clinician', 'c1', 30, 45, 'north'),
      unit('clinician', 'c2', 20, 30, 'north'),
      unit('clinician', 'c3', 16, 22, 'north'),
      unit('clinician', 'c4', 25, 40, 'south'),
      unit('clinician', 'c5', 25, 40),
    ];
    // Three left, of whom one was missed; without c3 there are 25.
    expect(codes(untold(units, policy))).toEqual(['north', 'south', 'c1', 'c2', 'c4', 'c5']);
  });

  it('is not told of in what is published', () => {
    const funnel: UnitFunnel = {
      key: 'photograph',
      title: 'Photograph taken',
      direction: 'at least',
      centre: 0.7,
      centreIs: 'overall',
      units: [
        site,
        other,
        unit('clinician', 'c1', 29, 34, 'north'),
        unit('clinician', 'c4', 30, 45, 'south'),
      ],
      limits: [],
      dispersion: {},
    };
    const [shown] = protectFunnels('audit-comparison', [funnel], policy, () => true);
    expect(shown?.units.map(({ code, site: at }) => [code, at])).toEqual([
      ['north', undefined],
      ['south', undefined],
      ['c4', undefined],
    ]);
  });
});
