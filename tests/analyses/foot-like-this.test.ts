import { describe, expect, it } from 'vitest';
import { ageGroupOf, ageGroups, feetLikeThisOne, footLikeThis } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith, SHORT, TO } from '../cohort/hand-made.ts';
import { measureOf, tableOf } from './looking.ts';

// Five severe feet; therapy lasts 70, 84, 98 and 112 days in those that finish, one is withdrawn on day 56.
const FEET: readonly HandMadeFoot[] = [
  {
    id: 'e',
    seen: [
      [0, 4.5, SHORT],
      [84, 2, PAST],
    ],
    end: [112, 'finished'],
  },
  {
    id: 'a',
    seen: [
      [0, 4.5, SHORT],
      [42, 2, PAST],
    ],
    end: [70, 'finished'],
  },
  {
    id: 'c',
    seen: [
      [0, 4.5, SHORT],
      [56, 4, SHORT],
    ],
    end: [56, 'withdrawn'],
  },
  {
    id: 'b',
    seen: [
      [0, 4.5, TO],
      [56, 2.5, PAST],
    ],
    end: [84, 'finished'],
  },
  {
    id: 'd',
    seen: [
      [0, 5, SHORT, { crease: true }],
      [84, 3, PAST],
    ],
    end: [98, 'finished'],
  },
  {
    id: 'm',
    seen: [
      [0, 3, PAST],
      [14, 2, PAST],
    ],
    end: [84, 'finished'],
  },
];
const plan = planWith({ counselling: { minimumFeet: 5 } });
const cohort = cohortOf(FEET, 200);
const plainSpaces = (text: string): string => text.replaceAll(/[\u202F\u00A0]/g, ' ');

describe('what became of feet like this one', () => {
  it('gives the incidence of correction and the quarters of duration', () => {
    const answer = footLikeThis(cohort, plan, { band: 'severe' });
    expect(answer).toMatchObject({ refused: false, feet: 5, infants: 5 });
    // Day 42: 1/5; day 56: a correction and a withdrawal of four at risk, + 1/5; day 84: one of two at risk, + 1/5.
    expect(answer.corrected.map(({ estimate }) => estimate)).toEqual([
      expect.closeTo(0.2, 12),
      expect.closeTo(0.4, 12),
      expect.closeTo(0.6, 12),
      expect.closeTo(0.6, 12),
    ]);
    // The withdrawn foot is censored on day 56; of the other four, 3/4 last beyond day 70 and 1/2 beyond day 84.
    expect(answer.duration.map(({ estimate }) => estimate)).toEqual([
      (70 + 84) / 2 / 7,
      (84 + 98) / 2 / 7,
      (98 + 112) / 2 / 7,
    ]);
    expect(plainSpaces(answer.statement)).toBe(
      'Of 5 feet of 5 infants like this one (severe), the share seen corrected was 20 % (1 to 58) by week 6, 40 % (5 to 75) by week 8, 60 % (13 to 88) by week 12 and 60 % (13 to 88) by week 16. Referred and withdrawn feet aside, half had finished therapy by 13.0 (10.0 to not reached) weeks, a quarter by 11.0 weeks and three quarters by 15.0 weeks.',
    );
    expect(answer.cautions).toHaveLength(3);
  });

  it('narrows by flexibility, crease and age, and leaves out what is not recorded', () => {
    const five = planWith({ counselling: { minimumFeet: 1 } });
    const count = (description: Parameters<typeof footLikeThis>[2]) =>
      footLikeThis(cohort, five, description).feet;
    expect(count({ band: 'severe', flexibility: SHORT })).toBe(4);
    expect(count({ band: 'severe', flexibility: SHORT, crease: true })).toBe(1);
    // All are 60 days old at first fitting.
    expect(count({ band: 'severe', ageGroup: 'under 13 weeks' })).toBe(5);
    expect(count({ band: 'severe', ageGroup: '26 weeks and more' })).toBe(0);
  });

  it('gives no answer on fewer feet than the plan asks for, and says why', () => {
    const answer = footLikeThis(cohort, plan, { band: 'severe', flexibility: SHORT, crease: false });
    expect(answer).toMatchObject({ refused: true, feet: 3, corrected: [], duration: [] });
    expect(answer.statement).toBe(
      'No answer: the cohort holds 3 feet like this one (severe, short of straight, without a medial crease), and on fewer than 5 the chance alone would decide. Ask for a wider group, leaving out the age, the crease or the flexibility.',
    );
    expect(footLikeThis(cohort, plan, { band: 'moderate' }).statement).toContain(
      'holds no foot like this one',
    );
    expect(footLikeThis(cohort, planWith(), { band: 'severe' }).refused).toBe(true);
  });

  it('refuses an age group that the plan does not have', () => {
    expect(() => footLikeThis(cohort, plan, { band: 'severe', ageGroup: 'old' })).toThrow(
      'old is no age group; allowed: under 13 weeks, 13 to under 26 weeks, 26 weeks and more',
    );
  });

  it('puts an age on the border into the older group', () => {
    expect([90, 91, 181, 182].map(days => ageGroupOf(days, plan))).toEqual([
      'under 13 weeks',
      '13 to under 26 weeks',
      '13 to under 26 weeks',
      '26 weeks and more',
    ]);
    expect(ageGroups(planWith({ counselling: { ageGroupWeeks: [] } }))).toEqual(['any age']);
  });
});

describe('the table of feet like this one', () => {
  it('has every band and age group, and withholds the small ones', () => {
    const { finding, trace } = feetLikeThisOne(cohort, plan);
    const { rows } = tableOf(finding, 'feet-like-this-one');
    expect(rows).toHaveLength(12);
    expect(rows.find(row => row.band === 'mild' && row.age === 'any')).toMatchObject({
      feet: 1,
      week8: 'too few',
      median: 'too few',
    });
    expect(measureOf(finding, 'duration.median.severe').estimate).toBe(13);
    expect(finding.statement).toBe(
      'What became of severe feet, by age at first fitting, stands in the table; of mild and moderate feet there are fewer than 5, and nothing is said.',
    );
    expect(trace['feet.severe.under 13 weeks']?.episodes).toEqual(['a', 'b', 'c', 'd', 'e']);
  });
});
