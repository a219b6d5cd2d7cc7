// A cohort of eight feet whose answers are worked out on paper beside each check. Mild feet: finished on days 70, 84 and
// 98, moved away on day 91. Severe feet: finished on days 98 and 126, referred on day 105, in therapy on day 140.
import { describe, expect, it } from 'vitest';
import { analyseDuration, severityAndDuration } from '../../../src/analyses/duration/index.ts';
import type { Analysis, Finding } from '../../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith, SHORT, TO } from '../../cohort/hand-made.ts';

const MILD: HandMadeFoot['seen'] = [[0, 3, PAST]];
const SEVERE: HandMadeFoot['seen'] = [[0, 5, SHORT]];
const EIGHT: readonly HandMadeFoot[] = [
  { id: 's3', seen: SEVERE },
  { id: 'm2', seen: MILD, end: [84, 'finished'] },
  { id: 's1', seen: SEVERE, end: [98, 'finished'] },
  { id: 'm4', seen: MILD, end: [91, 'moved away'] },
  { id: 's4', seen: SEVERE, end: [126, 'finished'] },
  { id: 'm3', seen: MILD, end: [98, 'finished'] },
  { id: 's2', seen: SEVERE, end: [105, 'referred for casting'] },
  { id: 'm1', seen: MILD, end: [70, 'finished'] },
];

function analysed(feet: readonly HandMadeFoot[], fields: object = {}, cutOffDay = 140): readonly Analysis[] {
  return analyseDuration(cohortOf(feet, cutOffDay, fields), planWith(fields));
}

function found(analyses: readonly Analysis[], key: string): Finding {
  const analysis = analyses.find(({ finding }) => finding.key === key);
  if (analysis === undefined) throw new Error(`no finding ${key}`);
  return analysis.finding;
}

function pick<T extends { readonly key: string }>(all: readonly T[] | undefined, key: string): T {
  const item = all?.find(candidate => candidate.key === key);
  if (item === undefined) throw new Error(`no ${key}`);
  return item;
}

describe('severity and duration of eight feet, by hand', () => {
  const analyses = analysed(EIGHT);
  const main = found(analyses, 'severity-and-duration');
  const estimate = (key: string): number | undefined => pick(main.measures, key).estimate;
  const tested = (key: string) => pick(main.tests, key);

  it('counts ends by band', () => {
    expect(
      ['feet', 'finished', 'referred', 'withdrawn', 'censored'].map(key => [
        estimate(`${key}.mild`),
        estimate(`${key}.severe`),
      ]),
    ).toEqual([
      [4, 4],
      [3, 2],
      [0, 1],
      [0, 0],
      [1, 1],
    ]);
  });

  it('reads quartiles from the curve, in the middle of a stretch at the level', () => {
    // Mild: 3/4 from day 70, 1/2 from day 84, 0 from day 98. A quarter: the middle of 70 and 84; half: of 84 and 98.
    expect(estimate('lower-quartile.mild')).toBeCloseTo(77 / 7, 12);
    expect(estimate('median.mild')).toBeCloseTo(91 / 7, 12);
    expect(estimate('upper-quartile.mild')).toBeCloseTo(98 / 7, 12);
    // Severe: 3/4 from day 98; two at risk on day 126, so 3/8 from then; three quarters are not reached.
    expect(estimate('lower-quartile.severe')).toBeCloseTo(112 / 7, 12);
    expect(estimate('median.severe')).toBeCloseTo(126 / 7, 12);
    expect(pick(main.measures, 'upper-quartile.severe').state).toBe('not reached');
  });

  it('lets referral compete in the share finished', () => {
    // Severe: 1/4 on day 98; half are left before day 126, and one of those two finishes: 1/4 + 1/2 x 1/2.
    expect(estimate('finished.week16.severe')).toBeCloseTo(1 / 4, 12);
    expect(estimate('finished.week20.severe')).toBeCloseTo(1 / 2, 12);
    expect(estimate('finished.week12.mild')).toBeCloseTo(1 / 2, 12);
    expect(estimate('finished.week16.mild')).toBeCloseTo(1, 12);
  });

  it('takes censoring as the event of follow-up', () => {
    // Mild: m4 leaves on day 91 with m3 still there: 1/2 from day 91 to the last day, 98.
    expect(estimate('follow-up.mild')).toBeCloseTo((91 + 98) / 2 / 7, 12);
    // Severe: alone from day 126 on, s3 is censored on day 140.
    expect(estimate('follow-up.severe')).toBeCloseTo(140 / 7, 12);
  });

  it('tests the trend', () => {
    // Expected of the mild: 4/8, 3/7, 2 x 1/5, 0/2; variance 1/4, 12/49, 2 x 3/4 x 1/5 x 4/5, 0.
    const expected = 1 / 2 + 3 / 7 + 2 / 5;
    const variance = 1 / 4 + 12 / 49 + 6 / 25;
    expect(tested('log-rank').statistic).toBeCloseTo((3 - expected) ** 2 / variance, 12);
    expect(tested('log-rank-trend').statistic).toBeCloseTo((3 - expected) ** 2 / variance, 12);
    // coxph(Surv(t, e) ~ score, cluster = infant), robust score test, survival 3.5-3
    expect(tested('trend').statistic).toBeCloseTo(4.42761811934, 9);
    expect(tested('trend').pValue).toBeCloseTo(0.0353618233868, 10);
  });

  it('ranks among the five finished feet, and says that they are selected', () => {
    // Pairs in which the severe foot took longer: 70 and 84 twice each, 98 once and one tie: 5.5 of 6, mean 3. Variance
    // with one pair of ties: (300 - 66 - 18 - 18)/72 + (6 + 2) 2/(8 x 20).
    expect(tested('jonckheere-terpstra').statistic).toBeCloseTo(2.5 / Math.sqrt(198 / 72 + 16 / 160), 12);
    // Ranks 1, 2, 3.5, 3.5, 5 with bands 2, 2, 2, 4.5, 4.5 about 3: 6.25 over the root of 9.5 x 7.5.
    expect(tested('spearman').statistic).toBeCloseTo(6.25 / Math.sqrt(9.5 * 7.5), 12);
    for (const key of ['jonckheere-terpstra', 'spearman']) expect(tested(key).method).toContain('selected');
  });

  it('solves the score equation of the hazard ratio', () => {
    // Risk sums for the ratio r: 4 + 4r, 3 + 4r, then for the two of day 98 (Efron) 1 + 4r and 0.5 + 3.5r, then 2r. The
    // derivative of log r - log of these by log r is 0.
    const r = estimate('hazard-ratio.crude.severe') ?? 0;
    const slope =
      1 - (4 * r) / (4 + 4 * r) - (4 * r) / (3 + 4 * r) - (4 * r) / (1 + 4 * r) - (3.5 * r) / (0.5 + 3.5 * r);
    expect(Math.abs(slope)).toBeLessThan(1e-9);
  });

  it('compares mean times under the exponential distribution', () => {
    const rows = pick(found(analyses, 'duration-model-checks').tables, 'distributions').rows;
    const row = rows.find(({ distribution, model }) => distribution === 'exponential' && model === 'crude');
    // Days of therapy over finished feet: (98 + 105 + 140 + 126)/2 to (70 + 84 + 98 + 91)/3.
    expect(row?.ratio).toMatchObject({ estimate: expect.closeTo(469 / 2 / (343 / 3), 9) as number });
  });

  it('answers in words', () => {
    // survreg(Surv(t, e) ~ severe, cluster = infant): 1.47028, 1.15216 to 1.87625. Nobody's sex is recorded, so no foot
    // is complete and the crude ratio stands.
    expect(plain(main.statement)).toBe(
      'Severe feet took 1.47 (1.15 to 1.88) times as long to finish therapy as mild feet, not adjusted (8 feet, 5 finished; trend across bands P = .04). Median weeks to finishing therapy, as if no foot were referred or withdrawn: mild feet 13.0 (10.0 to not reached); severe feet 18.0 (14.0 to not reached).',
    );
  });
});

describe('cohorts that a model cannot use', () => {
  it('says that no foot has finished', () => {
    const feet = EIGHT.map(({ id, seen }) => ({ id, ...(seen === undefined ? {} : { seen }) }));
    const analyses = analysed(feet);
    expect(found(analyses, 'severity-and-duration').statement).toBe(
      'None of the 8 feet with a severity band has finished therapy yet, so duration cannot be given.',
    );
    const states = found(analyses, 'severity-and-duration').tests.map(test => test.state);
    expect(states).toEqual(['no events', 'no events', 'no events', 'no foot finished', 'no foot finished']);
    expectOnlyNumbers(analyses);
  });

  it('says that there is one band only', () => {
    const analyses = analysed(EIGHT.filter(({ id }) => id.startsWith('m')));
    const main = found(analyses, 'severity-and-duration');
    expect(main.statement).toBe(
      'No ratio between bands can be given (feet of one band only). Median weeks to finishing therapy, as if no foot were referred or withdrawn: mild feet 13.0 (10.0 to not reached).',
    );
    expect(main.tests.map(test => test.state)).toEqual(
      Array.from({ length: 5 }, () => 'fewer than two bands'),
    );
    expectOnlyNumbers(analyses);
  });

  it('names a ratio without bound where no severe foot finished, and gives no number', () => {
    const feet = EIGHT.filter(({ id }) => id !== 's1' && id !== 's4');
    const analyses = analysed(feet);
    const main = found(analyses, 'severity-and-duration');
    expect(pick(main.effects, 'cox.crude.band.severe')).toMatchObject({ state: 'separated' });
    expect(pick(main.effects, 'time.crude.band.severe')).toMatchObject({ state: 'separated' });
    expect(main.statement).toMatch(
      /^No ratio between bands can be given \(it has no bound, none of the feet of a band having finished; trend/,
    );
    expectOnlyNumbers(analyses);
  });

  it('answers an empty cohort', () => {
    const analyses = analysed([]);
    expect(analyses.map(({ finding }) => finding.statement)).toEqual([
      'No foot with a severity band was followed, so duration cannot be given.',
      'Proportional hazards could not be tested. No distribution could be fitted to the durations.',
      'No foot was followed, so there is nothing to fill in.',
      'The ratio between bands could not be estimated, so neither its precision nor the size of a next study can be given.',
    ]);
    expectOnlyNumbers(analyses);
  });

  it('keeps a foot that never began out of the models, and counts it', () => {
    const feet: readonly HandMadeFoot[] = [...EIGHT, { id: 'm5', seen: MILD, end: [0, 'moved away'] }];
    const main = found(analysed(feet), 'severity-and-duration');
    expect(pick(main.measures, 'models.no-day').estimate).toBe(1);
    expect(pick(main.measures, 'models.crude').estimate).toBe(8);
    expect(pick(main.measures, 'feet.mild').estimate).toBe(5);
  });

  it('works with both feet of a single infant', () => {
    const analyses = analysed([
      { id: 'a', infant: 'one', side: 'left', seen: MILD, end: [84, 'finished'] },
      { id: 'b', infant: 'one', side: 'right', seen: [[0, 3.5, TO]], end: [98, 'finished'] },
    ]);
    expectOnlyNumbers(analyses);
  });
});

describe('what the plan changes', () => {
  it('censors an end that the plan does not let compete', () => {
    const main = found(
      analysed(EIGHT, { duration: { competingEnds: ['withdrawn'] } }),
      'severity-and-duration',
    );
    expect(pick(main.measures, 'referred.severe').estimate).toBe(0);
    expect(pick(main.measures, 'censored.severe').estimate).toBe(2);
    // 3/4 are left before day 126 when the referred foot is censored, and half of them finish: 1/4 + 3/8.
    expect(pick(main.measures, 'finished.week20.severe').estimate).toBeCloseTo(5 / 8, 12);
  });

  it('takes feet as independent', () => {
    const fields = { clustering: { byInfant: false } };
    const cohort = cohortOf(EIGHT, 140, fields);
    const { finding } = severityAndDuration(cohort, planWith(fields));
    const trend = pick(finding.tests, 'trend');
    expect(trend.method).toContain('feet as independent');
    // The model's score test differs from the log-rank test by Efron's ties alone.
    expect(trend.statistic).toBeCloseTo(3.99, 1);
  });
});

/** Without the no-break spaces of numbers in a sentence. */
function plain(text: string): string {
  return text.replaceAll('\u00A0', ' ');
}

/** No number of a finding may be NaN, infinite or null. */
function expectOnlyNumbers(analyses: readonly Analysis[]): void {
  const walk = (value: unknown, path: string): void => {
    if (typeof value === 'number') expect(Number.isFinite(value), path).toBe(true);
    expect(value, path).not.toBeNull();
    if (typeof value === 'object' && value !== null) {
      for (const [key, part] of Object.entries(value)) walk(part, `${path}.${key}`);
    }
  };
  for (const { finding } of analyses) walk(finding, finding.key);
}
