import { describe, expect, it } from 'vitest';
import type { Finding, QuarterChart, UnitFunnel } from '../../src/analyses/index.ts';
import { judgeAudit } from './audit-judge.ts';
import { auditReadings, UNPLANTED_CHARTS } from './audit-readings.ts';
import { auditShares } from './audit-shares.ts';
import { studiedScenario } from './scenarios.ts';

const empty: Finding = {
  key: 'audit',
  version: 1,
  question: '',
  statement: '',
  population: { feet: 0, infants: 0, leftOut: [] },
  measures: [],
  curves: [],
  tests: [],
  tables: [],
  methods: [],
  cautions: [],
};
/** The quarters of the scenario: its first fitting is in 2023-Q1. */
const QUARTERS = Array.from({ length: 12 }, (_, i) => `${2023 + Math.floor(i / 4)}-Q${(i % 4) + 1}`);

function chart(key: string, signals: readonly number[], shifts: readonly number[] = []): QuarterChart {
  return {
    key,
    title: key,
    kind: 'proportion',
    unit: 'of 1',
    quarters: QUARTERS,
    points: [],
    centre: 0.5,
    ruleSet: 'shewhart',
    signals: signals.map(place => ({ place, rule: 'beyond 3 sigma' })),
    median: 0.5,
    shift: 8,
    shifts: shifts.map(place => ({ place, rule: 'shift' })),
  };
}

function funnel(key: string, beyond: Readonly<Record<string, '95 %' | '99.8 %' | 'within'>>): UnitFunnel {
  const limits = { lower: 0, upper: 1 };
  return {
    key,
    title: key,
    direction: 'at least',
    centre: 0.5,
    centreIs: 'overall',
    units: Object.entries(beyond).flatMap(([code, limit]) =>
      (['site', 'clinician'] as const).map(kind => ({
        kind,
        code,
        count: 1,
        n: 2,
        value: 0.5,
        inner: limits,
        outer: limits,
        ...(limit === 'within' ? {} : { beyond: { limit, side: 'below' as const } }),
      })),
    ),
    limits: [],
    dispersion: {},
  };
}

const scenario = studiedScenario('skin-cluster');
const said = (findings: readonly Finding[]) =>
  Object.fromEntries(
    auditReadings(findings, scenario).map(r => [[r.measure, r.site, r.reading].join('|'), r.said]),
  );

describe('readings of an audit', () => {
  it('tell a signal in the quarter of the change from one elsewhere', () => {
    // The cluster is in the eighth quarter, place 7, and does not last.
    const at = (signals: readonly number[]) =>
      said([{ ...empty, quarterCharts: [chart('skin-rate', signals)] }]);
    expect(at([7])['skin-rate||signal in the quarters of the change']).toBe(true);
    expect(at([8])).toEqual({
      'skin-rate||signal': true,
      'skin-rate||signal in the quarters of the change': false,
      [`${UNPLANTED_CHARTS}||signal`]: false,
    });
    expect(at([])['skin-rate||signal']).toBe(false);
  });

  it('count a run on the run chart, and any chart in which nothing was planted', () => {
    const charts = [chart('teach-back', [], [9]), chart('second-checkup', [])];
    expect(said([{ ...empty, quarterCharts: charts }])).toEqual({
      'teach-back||signal': true,
      'second-checkup||signal': false,
      [`${UNPLANTED_CHARTS}||signal`]: true,
    });
  });

  it('keep sites and not clinicians, and take the outer limits to lie outside the inner ones', () => {
    const funnels = [funnel('teach-back', { north: 'within', east: '95 %', west: '99.8 %' })];
    expect(said([{ ...empty, funnels }])).toEqual({
      'teach-back|north|outside 95 %': false,
      'teach-back|north|outside 99.8 %': false,
      'teach-back|east|outside 95 %': true,
      'teach-back|east|outside 99.8 %': false,
      'teach-back|west|outside 95 %': true,
      'teach-back|west|outside 99.8 %': true,
    });
  });

  it('pass over standards under which nothing fell due', () => {
    const result = { title: '', direction: 'at least', target: 0.9, infants: 3 } as const;
    const standards = [
      { ...result, key: 'teach-back', count: 3, n: 3, verdict: 'met' as const },
      { ...result, key: 'skin-review', count: 0, n: 0, verdict: 'too few to say' as const },
    ];
    expect(said([{ ...empty, standards }])).toEqual({
      'teach-back||met': true,
      'teach-back||not met': false,
    });
  });
});

describe('the judge of audits', () => {
  it('reckons shares over the exports that have a reading, and says where something was planted', () => {
    const exports = [[7], [7, 8], [], undefined].map(signals => ({
      audit: auditReadings(
        [{ ...empty, quarterCharts: signals === undefined ? [] : [chart('skin-rate', signals)] }],
        scenario,
      ),
    }));
    const found = judgeAudit('skin-cluster', exports).find(
      r => r.measure === 'skin-rate' && r.reading === 'signal in the quarters of the change',
    );
    expect(found).toMatchObject({ planted: true, exports: 3 });
    expect(found?.share).toBeCloseTo(2 / 3, 12);
    expect(found?.shareError).toBeCloseTo(Math.sqrt(2 / 27), 12);
  });

  it('knows the site that fails', () => {
    const funnels = [funnel('teach-back', { tarnholm: 'within', ombermoor: '99.8 %' })];
    const audit = auditReadings([{ ...empty, funnels }], scenario);
    const planted = (name: 'failing-site' | 'skin-cluster') =>
      judgeAudit(name, [{ audit }])
        .filter(r => r.planted)
        .map(({ site }) => site);
    expect(planted('failing-site')).toEqual(['ombermoor', 'ombermoor']);
    expect(planted('skin-cluster')).toEqual([]);
  });
});

describe('shares of the last full quarter', () => {
  it('follow from sites, weights, changes and blanks', () => {
    // Weights 5, 3, 2; teach-back 0.85 at each, 0.1 more in the last quarter; 3 % left blank.
    const ordinary = auditShares(studiedScenario('ordinary-clinic')).map(({ truths }) => truths.true);
    expect(ordinary[0]).toBeCloseTo(0.97 * 0.95, 12);
    expect(ordinary[1]).toBeCloseTo(0.97 * 0.93, 12);
    // Weights 4, 3, 3.
    const failing = auditShares(studiedScenario('failing-site')).map(({ truths }) => truths.true);
    expect(failing[0]).toBeCloseTo(0.97 * (0.4 * 0.95 + 0.3 * 0.94 + 0.3 * 0.5), 12);
  });
});
