import { describe, expect, it } from 'vitest';
import { timeToCorrection } from '../../src/analyses/index.ts';
import { cohortOf, planWith } from '../cohort/hand-made.ts';
import { CUT_OFF_DAY, EIGHT_FEET } from './eight-feet.ts';
import { effectOf, measureOf, tableOf, testOf } from './looking.ts';

const { finding, trace } = timeToCorrection(cohortOf(EIGHT_FEET, CUT_OFF_DAY), planWith());

describe('time to correction of eight feet, worked out on paper', () => {
  it('gives the incidence with withdrawal and referral competing', () => {
    const by = (week: number, band: string) => measureOf(finding, `corrected.week${week}.${band}`).estimate;
    // mild: 1/4 on day 14; half are left on day 42, of two at risk one: + 1/4; day 63: + 1/4.
    expect([6, 8, 12, 16].map(week => by(week, 'mild'))).toEqual([0.5, 0.5, 0.75, 0.75]);
    // severe: 3/4 left after day 56; day 70: 3/4 x 1/3; day 84: 1/2 x 1/2.
    expect([6, 8, 12, 16].map(week => by(week, 'severe'))).toEqual([0, 0, 0.5, 0.5]);
  });

  it('reads quartiles from the visit-dated curve', () => {
    const quartiles = (band: string) =>
      ['lower-quartile', 'median', 'upper-quartile'].map(
        name => measureOf(finding, `${name}.${band}`).estimate ?? measureOf(finding, `${name}.${band}`).state,
      );
    // mild survival: 3/4 from day 14, 3/8 from day 42, 0 from day 63; 3/4 is met exactly, so midway to day 42.
    expect(quartiles('mild')).toEqual([4, 6, 9]);
    // severe: 2/3 from day 70, 1/3 from day 84.
    expect(quartiles('severe')).toEqual([10, 12, 'not reached']);
  });

  it('takes correction as lying between two checkups', () => {
    const least = (week: number, band: string) =>
      measureOf(finding, `interval-censored.at-least.week${week}.${band}`).estimate;
    const most = (week: number, band: string) =>
      measureOf(finding, `interval-censored.at-most.week${week}.${band}`).estimate;
    // mild: (0, 14], (14, 42], (42, 63] and (14, infinity), whose mass goes to the two after day 14: 1/4, 3/8, 3/8.
    expect(least(6, 'mild')).toBeCloseTo(5 / 8, 9);
    expect(most(6, 'mild')).toBeCloseTo(5 / 8, 9);
    expect(least(8, 'mild')).toBeCloseTo(5 / 8, 9);
    expect(most(8, 'mild')).toBeCloseTo(1, 9);
    // severe: (42, 70] holds 2/3, (84, infinity) the rest.
    expect(least(8, 'severe')).toBeCloseTo(0, 9);
    expect(most(8, 'severe')).toBeCloseTo(2 / 3, 9);
    expect(most(16, 'severe')).toBeCloseTo(1, 9);
    expect(measureOf(finding, 'interval-censored.at-least.median.mild').estimate).toBe(2);
    expect(measureOf(finding, 'interval-censored.at-most.median.mild').estimate).toBe(6);
    expect(measureOf(finding, 'interval-censored.at-least.median.severe').estimate).toBe(6);
    expect(measureOf(finding, 'interval-censored.at-most.median.severe').estimate).toBe(10);
  });

  it('says by how much visit dating is late', () => {
    const median = tableOf(finding, 'visit-dating-medians').rows.find(row => row.band === 'severe');
    expect([median?.lateAtLeast, median?.lateAtMost]).toEqual([2, 6]);
    const share = tableOf(finding, 'visit-dating-shares').rows.find(
      row => row.band === 'severe' && row.week === 8,
    );
    expect(share?.lateAtMost).toBeCloseTo(200 / 3, 7);
  });

  it('gives limits to the interval-censored share, the same with the same seed', () => {
    const share = measureOf(finding, 'interval-censored.at-least.week8.mild');
    expect(share.lower).toBeLessThan(5 / 8);
    expect(share.upper).toBeGreaterThan(5 / 8);
    const again = timeToCorrection(cohortOf(EIGHT_FEET, CUT_OFF_DAY), planWith()).finding;
    expect(again).toEqual(finding);
  });

  it('gives restricted means and their difference', () => {
    // mild: 14 + 28 x 3/4 + 21 x 3/8 days; severe: 70 + 14 x 2/3 + 28 x 1/3 days, up to day 112.
    expect(measureOf(finding, 'restricted-mean.mild').estimate).toBeCloseTo(42.875 / 7, 12);
    expect(measureOf(finding, 'restricted-mean.severe').estimate).toBeCloseTo((70 + 56 / 3) / 7, 12);
    expect(measureOf(finding, 'restricted-mean-difference.severe-mild').estimate).toBeCloseTo(
      (70 + 56 / 3 - 42.875) / 7,
      12,
    );
  });

  it('tests the trend by the score test with its variance summed by infant', () => {
    // Share of severe feet at risk and hazard on days 14, 42, 63, 70 and 84.
    const severe = [1 / 2, 2 / 3, 3 / 4, 1, 1];
    const hazard = [1 / 8, 1 / 6, 1 / 4, 1 / 3, 1 / 2];
    const share = (times: number): number => severe[times - 1] ?? 0;
    const drift = (isSevere: number, times: number): number =>
      severe.slice(0, times).reduce((sum, mean, k) => sum - (isSevere - mean) * (hazard[k] ?? 0), 0);
    const scores = [
      -share(1) + drift(0, 1), // m2
      drift(0, 1), // m4
      -share(2) + drift(0, 2), // m1
      -share(3) + drift(0, 3), // m3
      drift(1, 2), // s4
      1 - share(4) + drift(1, 4), // s3
      1 - share(5) + drift(1, 5), // s1
      drift(1, 5), // s2
    ];
    const sum = scores.reduce((total, score) => total + score, 0);
    const squares = scores.reduce((total, score) => total + score ** 2, 0);
    expect(testOf(finding, 'trend').statistic).toBeCloseTo(sum ** 2 / squares, 10);
    // Observed 2 severe, expected 1/2 + 2/3 + 3/4 + 1 + 1; variance 1/4 + 2/9 + 3/16.
    expect(testOf(finding, 'log-rank-trend').statistic).toBeCloseTo((23 / 12) ** 2 / (95 / 144), 10);
    expect(testOf(finding, 'log-rank').statistic).toBeCloseTo((23 / 12) ** 2 / (95 / 144), 10);
    expect(testOf(finding, 'log-rank-trend').method).toContain('feet as independent');
  });

  it('counts hours worn, days without a row at the mean of the others', () => {
    // 20 rows of 20 hours; 41 adherence days up to day 42.
    expect(measureOf(finding, 'dose.median.mild')).toMatchObject({ estimate: 8.2, n: 1, events: 1 });
    expect(finding.cautions.join(' ')).toContain('known for 49\u202F% of days');
    const out = trace['dose.leftOut.no wear recorded up to correction or the end of observation'];
    expect(out?.episodes).toEqual(['m2', 'm3', 'm4', 's1', 's2', 's3', 's4']);
  });

  it('names what a model cannot give', () => {
    // No sex is recorded, so that nobody is left for the adjusted models.
    expect(tableOf(finding, 'models').notes).toContain(
      'Left out of the adjusted models: sex not recorded, 8 feet.',
    );
    expect(effectOf(finding, 'cox.crude.band.severe')).toMatchObject({ reference: 'mild', n: 8, events: 5 });
    expect(effectOf(finding, 'dose.cox.trend').state).toBe('fewer than two bands');
  });

  it('says so in these words', () => {
    expect(finding.statement.replaceAll('\u202F', ' ').replaceAll('\u00A0', ' ')).toBe(
      'Median weeks until a foot was seen corrected: mild feet 6.0 (2.0 to not reached) and severe feet 12.0 (10.0 to not reached) (trend across bands P = .02). By week 8, 50 % (6 to 84) of mild feet and 0 % of severe feet had been seen corrected. Since feet straighten between checkups, 63 to 100 % of mild feet and 0 to 67 % of severe feet were straight by then (interval-censored estimate, other ends censored).',
    );
  });

  it('lists the episodes behind each count', () => {
    expect(trace['feet.mild']?.episodes).toEqual(['m1', 'm2', 'm3', 'm4']);
    expect(trace['corrected.severe']?.episodes).toEqual(['s1', 's3']);
    expect(trace['referred.severe']?.episodes).toEqual(['s4']);
    expect(trace['withdrawn.mild']?.episodes).toEqual(['m4']);
    expect(trace['censored.severe']?.episodes).toEqual(['s2']);
  });
});

describe('a band in which nobody was corrected', () => {
  it('is separated in the hazard, and says so', () => {
    const feet = EIGHT_FEET.filter(({ id }) => id !== 's1' && id !== 's3');
    const alone = timeToCorrection(cohortOf(feet, CUT_OFF_DAY), planWith()).finding;
    expect(effectOf(alone, 'cox.crude.band.severe')).toMatchObject({ state: 'separated' });
    expect(effectOf(alone, 'cox.crude.band.severe').estimate).toBeUndefined();
    expect(effectOf(alone, 'cox.trend').state).toBe('separated');
    expect(measureOf(alone, 'weibull.week8.severe').state).toBe('no corrections');
    expect(measureOf(alone, 'median.severe').state).toBe('not reached');
  });
});

describe('feet taken as independent', () => {
  it('says so in the test and the methods', () => {
    const plan = planWith({ clustering: { byInfant: false } });
    const alone = timeToCorrection(cohortOf(EIGHT_FEET, CUT_OFF_DAY), plan).finding;
    expect(testOf(alone, 'trend').method).toContain('feet as independent');
    expect(testOf(alone, 'trend').statistic).toBeCloseTo((23 / 12) ** 2 / (95 / 144), 10);
    expect(alone.methods.map(({ text }) => text)).toContain('Feet are taken as independent.');
  });
});
