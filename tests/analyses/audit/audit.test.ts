import { describe, expect, it } from 'vitest';
import { analyseAudit } from '../../../src/analyses/audit/index.ts';
import { countLimits } from '../../../src/analyses/audit/count-limits.ts';
import { quarterChart } from '../../../src/analyses/audit/quarter-series.ts';
import { skinByQuarter } from '../../../src/analyses/audit/skin-rate.ts';
import { quarterOf } from '../../../src/analyses/audit/quarter.ts';
import { verdictOn } from '../../../src/analyses/audit/verdict.ts';
import type { Finding } from '../../../src/analyses/finding.ts';
import { type AuditFoot, cohortOf, dayOf, planWith } from './hand-made.ts';

const plan = planWith();

/** So many feet fitted on a day, of which some had the photograph and teach-back. */
function fitted(
  start: string,
  count: number,
  met: number,
  more: Partial<AuditFoot> = {},
): readonly AuditFoot[] {
  return Array.from({ length: count }, (_, i) => ({
    id: `${start}-${more.site ?? 'north'}-${String(i).padStart(3, '0')}`,
    start,
    episode: { baseline_photo: i < met, teach_back: true },
    baseline: [4, true, true] as const,
    end: [10, 'finished'] as const,
    ...more,
  }));
}

function findingOf(key: string, feet: readonly AuditFoot[], cutOff: string, quarter: string): Finding {
  const analysis = analyseAudit(cohortOf(feet, cutOff), plan, quarter).find(
    ({ finding }) => finding.key === key,
  );
  if (analysis === undefined) throw new Error(`no finding ${key}`);
  return analysis.finding;
}

describe('verdict', () => {
  const atLeast = { direction: 'at least', target: 0.9 } as const;
  const under = { direction: 'under', target: 0.1 } as const;

  it.each([
    // Wilson limits by Newcombe's formula: 18/20 reaches 90 %; 17/20 has upper limit 0.948; 13/20 has 0.819.
    [18, 20, atLeast, 'met'],
    [17, 20, atLeast, 'too few to say'],
    [13, 20, atLeast, 'not met'],
    // Nine are too few whatever they show, ten are not.
    [0, 9, atLeast, 'too few to say'],
    [9, 9, atLeast, 'too few to say'],
    [10, 10, atLeast, 'met'],
    [0, 10, atLeast, 'not met'],
    [0, 0, atLeast, 'too few to say'],
    // A share that must stay under: exactly at the target is not under it.
    [0, 20, under, 'met'],
    [2, 20, under, 'too few to say'],
    [8, 20, under, 'not met'],
    // A target of all: one that failed is enough.
    [29, 30, { direction: 'at least', target: 1 }, 'not met'],
    [30, 30, { direction: 'at least', target: 1 }, 'met'],
  ] as const)('on %i of %i', (count, n, standard, verdict) => {
    expect(verdictOn(count, n, standard, plan)).toBe(verdict);
  });
});

describe('the standards of a quarter', () => {
  const feet = [...fitted('2026-02-02', 20, 20), ...fitted('2026-05-04', 20, 10)];

  it('states what was met and what was not, word for word', () => {
    expect(findingOf('audit', feet, '2026-07-01', 'previous').statement).toBe(
      'In 2026-Q2, 3 of 4 standards were met and 1 was not met (baseline photograph taken). Not met: baseline photograph taken 10/20 (50\u202F%), interval 30 to 70\u202F%, target at least 95\u202F%.',
    );
  });

  it('gives the change on the quarter before by the hybrid score method', () => {
    const [photograph] = findingOf('audit', feet, '2026-07-01', '2026-Q2').standards ?? [];
    // 10/20 less 20/20: Wilson 0.2993 to 0.7007 and 0.8389 to 1, so limits -0.5 -/+ as squares.
    expect(photograph?.change?.estimate).toBe(-0.5);
    expect(photograph?.change?.lower).toBeCloseTo(-0.5 - Math.hypot(0.5 - 0.2993, 0), 3);
    expect(photograph?.change?.upper).toBeCloseTo(-0.5 + Math.hypot(0.2007, 1 - 0.8389), 3);
    expect(findingOf('audit', feet, '2026-07-01', '2026-Q1').standards?.[0]?.change).toBeUndefined();
  });

  it('keeps the episodes that failed for the desk and out of the finding', () => {
    const [analysis] = analyseAudit(cohortOf(feet, '2026-07-01'), plan, '2026-Q2');
    expect(analysis?.trace['failed.baseline-photograph']?.episodes).toHaveLength(10);
    expect(analysis?.trace['due.baseline-photograph']?.episodes).toHaveLength(20);
    expect(JSON.stringify(analysis?.finding)).not.toContain('2026-05-04-north');
  });

  it('says so when nothing fell due', () => {
    const finding = findingOf('audit', feet, '2027-07-01', '2027-Q2');
    expect(finding.statement).toBe('Nothing fell due under any standard in 2027-Q2.');
    expect(finding.measures[0]).toMatchObject({ state: 'nothing fell due', n: 0 });
  });

  it('warns when the data end before the quarter', () => {
    expect(findingOf('audit', feet, '2026-05-31', '2026-Q2').cautions[0]).toContain(
      'The data end before 2026-Q2',
    );
    expect(findingOf('audit', feet, '2026-06-30', '2026-Q2').cautions[0]).not.toContain('The data end');
  });
});

describe('charts', () => {
  const quarters = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j'];
  const series = (counts: readonly number[], sizes: readonly number[] = counts.map(() => 100)) => ({
    key: 'x',
    title: 'X',
    kind: 'proportion' as const,
    unit: 'of 1',
    counts,
    sizes,
  });

  it('finds a planted shift by the run rules and a planted point by the limits', () => {
    const shift = quarterChart(series([80, 80, 90, 90, 90, 90, 90, 90, 90, 90]), quarters, plan);
    expect(shift?.signals.map(({ place, rule }) => [place, rule])).toContainEqual([
      9,
      'eight in a row on one side of the centre',
    ]);
    const point = quarterChart(series([90, 90, 90, 90, 70, 90, 90, 90, 90, 90]), quarters, plan);
    expect(point?.signals).toEqual([{ place: 4, rule: 'beyond 3 sigma', side: 'below' }]);
    expect(quarterChart(series([90, 91, 89, 90, 91, 89, 90, 91, 89, 90]), quarters, plan)?.signals).toEqual(
      [],
    );
  });

  it('uses the rule set of the plan', () => {
    const only = planWith({ ruleSet: 'shewhart' });
    expect(quarterChart(series([80, 80, 90, 90, 90, 90, 90, 90, 90, 90]), quarters, only)?.signals).toEqual(
      [],
    );
  });

  it('has no point for a quarter with too few, keeps the place of the others, and needs enough of them', () => {
    const shewhart = planWith({ ruleSet: 'shewhart' });
    const sizes = [100, 9, 100, 0, 100, 100, 100, 100, 100, 100];
    const chart = quarterChart(series([90, 0, 90, 0, 90, 90, 90, 90, 60, 90], sizes), quarters, shewhart);
    expect(chart?.points.map(({ place }) => place)).toEqual([0, 2, 4, 5, 6, 7, 8, 9]);
    expect(chart?.signals.map(({ place }) => place)).toEqual([8]);
    expect(quarterChart(series([9, 9, 9], [10, 10, 10]), quarters, shewhart)).toBeUndefined();
  });

  it('reads a run chart with the shift of the plan', () => {
    const chart = quarterChart(
      series([80, 81, 82, 83, 84, 91, 92, 93, 94, 95]),
      quarters,
      planWith({ runChartShift: 5, ruleSet: 'shewhart' }),
    );
    expect(chart?.shifts.map(({ place, side }) => [place, side])).toEqual([
      [4, 'below'],
      [9, 'above'],
    ]);
  });

  it('splits the days of therapy at the end of a quarter', () => {
    const cohort = cohortOf(
      [
        {
          id: 'a',
          start: '2026-03-24',
          end: [21, 'finished'],
          events: [
            [0, 'blister'],
            [7, 'blister'],
            [8, 'pressure sore'],
            [22, 'blister'],
          ],
        },
      ],
      '2026-12-31',
    );
    // Days 1 to 7 are 25 to 31 March, days 8 to 21 are in April.
    const skin = skinByQuarter(cohort, plan);
    const first = skin.get(quarterOf(dayOf('2026-03-31'), 1).ordinal);
    const second = skin.get(quarterOf(dayOf('2026-04-01'), 1).ordinal);
    expect([first?.events, Math.round((first?.hundredFootWeeks ?? 0) * 700)]).toEqual([2, 7]);
    expect([second?.events, Math.round((second?.hundredFootWeeks ?? 0) * 700)]).toEqual([1, 14]);
  });
});

describe('sites and clinicians', () => {
  it('have limits by whole counts: all of a few is never outside', () => {
    // P(R = 4) is 0.66 at 90 %; P(R <= 1) is 0.0037, P(R <= 2) 0.052.
    expect(countLimits(4, 0.9, 0.025)).toEqual({ lower: 2, upper: 4 });
    expect(countLimits(4, 0.9, 0.001)).toEqual({ lower: 1, upper: 4 });
    expect(countLimits(10, 0.5, 0.025)).toEqual({ lower: 2, upper: 8 });
  });

  it('are compared round the share of all, in the order of their size', () => {
    const feet = [
      ...fitted('2026-05-04', 30, 15, { site: 'aspen' }),
      ...fitted('2026-05-05', 60, 60, { site: 'birch' }),
      ...fitted('2026-05-06', 5, 5, { site: 'cedar' }),
    ];
    const finding = findingOf('audit-comparison', feet, '2026-07-01', 'previous');
    const photograph = finding.funnels?.find(({ key }) => key === 'baseline-photograph');
    expect(photograph?.centre).toBe(80 / 95);
    expect(photograph?.units.map(unit => [unit.code, unit.count, unit.n, unit.beyond])).toEqual([
      ['birch', 60, 60, { limit: '99.8 %', side: 'above' }],
      ['aspen', 15, 30, { limit: '99.8 %', side: 'below' }],
      ['cedar', 5, 5, undefined],
    ]);
    expect(photograph?.dispersion.site).toBeGreaterThan(5);
    // Standards that all met have no funnel.
    expect(finding.funnels?.map(({ key }) => key)).toEqual(['baseline-photograph']);
    expect(finding.statement.split('. ')[0]).toBe(
      'In 2026-Q2 site birch (1 standard) and site aspen (1 standard) lay beyond the outer limits',
    );
  });

  it('name a clinician only with the minimum of feet', () => {
    const feet = [
      ...fitted('2026-05-04', 20, 10, { clinician: 'c-20' }),
      ...fitted('2026-05-05', 19, 19, { clinician: 'c-19' }),
    ];
    const text = JSON.stringify(findingOf('audit-comparison', feet, '2026-07-01', 'previous'));
    expect(text).toContain('c-20');
    expect(text).not.toContain('c-19');
  });

  it('carry a note where they treated different feet', () => {
    const feet = [
      ...fitted('2026-05-04', 20, 10, { site: 'aspen', baseline: [5, true, true] }),
      ...fitted('2026-05-05', 20, 12, { site: 'birch', baseline: [3.5, true, true] }),
    ];
    expect(findingOf('audit-comparison', feet, '2026-07-01', 'previous').statement).toContain(
      'Sites did not treat the same feet (severity bands differ between sites)',
    );
  });
});
