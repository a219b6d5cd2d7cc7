import { describe, expect, it } from 'vitest';
import { skinSafety } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith } from '../cohort/hand-made.ts';
import { expectNear } from '../statistics/near.ts';
import { expectSound, rowsOfTable } from './findings.ts';
import { measureOf } from './sample.ts';

const CUT_OFF = 84;
const SEEN = [[0, 3, PAST]] as const;

// Four feet of three infants: 70 + 35 + 84 + 14 days are 29 foot-weeks.
const FEET: readonly HandMadeFoot[] = [
  // In therapy at the cut-off, four days after its sore: the time for review has not passed.
  { id: 'c', seen: SEEN, phases: [[0, 24]], events: [[80, 'pressure sore']], ankleOpened: true },
  {
    id: 'a',
    infant: 'one',
    end: [70, 'finished'],
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
    ],
    // Reviewed on the seventh day, and on the eighth.
    events: [
      [42, 'blister', { reviewed: 50, cause: 'strap too tight' }],
      [0, 'slight redness'],
      [14, 'blister', { reviewed: 21, cause: 'poor fit' }],
    ],
    ankleOpened: false,
  },
  // A sore the day after therapy does not count.
  {
    id: 'b',
    infant: 'one',
    side: 'right',
    end: [35, 'withdrawn'],
    seen: SEEN,
    phases: [[0, 24]],
    events: [
      [36, 'pressure sore'],
      [20, 'strong redness', { cause: 'sock fold' }],
    ],
    ankleOpened: false,
  },
  { id: 'd', end: [14, 'moved away'], seen: SEEN, phases: [[0, 24]] },
];

const plan = planWith();
const analysis = skinSafety(cohortOf(FEET, CUT_OFF), plan);
const at = (key: string) => measureOf(analysis, key);

describe('skin safety, worked out on paper', () => {
  it('gives rates in all, by phase and by weeks since first fitting', () => {
    const sore = (stretch: string) =>
      ['events', 'footWeeks', 'rate'].map(key => at(`${key}.blister or pressure sore.${stretch}`).estimate);
    expect(sore('all')).toEqual([3, 29, 3 / 0.29]);
    // Exact Poisson limits of three events: 0.6187 and 8.7673.
    expectNear(at('rate.blister or pressure sore.all').lower, 0.6186721 / 0.29, 1e-6);
    expectNear(at('rate.blister or pressure sore.all').upper, 8.7672731 / 0.29, 1e-6);
    // 24 hours: a 42 days (0 to 41), b 35, c 84, d 14; 15 hours: a 28 (42 to 69). The blister of day 42 belongs to 15 hours.
    expect(sore('24 hours').slice(0, 2)).toEqual([2, 25]);
    expect(sore('15 hours').slice(0, 2)).toEqual([1, 4]);
    expect(sore('12 hours').slice(0, 2)).toEqual([0, 0]);
    expect(at('rate.blister or pressure sore.12 hours').state).toBe('no data');
    // Day 14 begins the third week, day 42 the seventh.
    expect(sore('weeks 0 to 2')).toEqual([0, 8, 0]);
    expect(sore('weeks 2 to 6').slice(0, 2)).toEqual([1, 11]);
    expect(sore('weeks 6 to 12')).toEqual([2, 10, 20]);
    expect(at('rate.blister or pressure sore.after week 12').state).toBe('no data');
    // The redness of day 0 counts, with the first two weeks.
    expect(at('events.slight redness.weeks 0 to 2').estimate).toBe(1);
    expect(at('events.any skin event.all').estimate).toBe(5);
    expect(at('feet.any skin event.all')).toMatchObject({ estimate: 3, infants: 2 });
  });

  it('adds up events a foot while in therapy', () => {
    // Day 14 among four feet, day 42 among a and c, day 80 c alone.
    expectNear(at('meanCount.week4.blister or pressure sore').estimate, 0.25);
    expectNear(at('meanCount.week8.blister or pressure sore').estimate, 0.75);
    expectNear(at('meanCount.week12.blister or pressure sore').estimate, 1.75);
    expect(at('meanCount.week16.blister or pressure sore').state).toBe('not followed so long');
  });

  it('gives the time to the first blister or sore', () => {
    expectNear(at('firstSore.week4.all').estimate, 0.25);
    expectNear(at('firstSore.week8.all').estimate, 0.25);
    // The last foot at risk had its sore on day 80.
    expect(at('firstSore.week12.all').state).toBe('not followed so long');
    expect(analysis.trace['firstSore.all']?.episodes).toEqual(['a', 'c']);
  });

  it('counts review within seven days over those whose seven days have passed', () => {
    expect(at('review.due').estimate).toBe(2);
    expect(at('review.inTime').estimate).toBe(1);
    expect(at('review.notYetDue').estimate).toBe(1);
    // Wilson's interval of 1 in 2.
    const z2 = 1.959963984540054 ** 2;
    expectNear(at('review.share').lower, 0.5 - Math.sqrt(z2 / (4 * (2 + z2))));
    expectNear(at('review.share').upper, 0.5 + Math.sqrt(z2 / (4 * (2 + z2))));
    expect(analysis.trace['review.notYetDue']?.episodes).toEqual(['c']);
  });

  it('compares feet by the fitting of the shell, and lists recorded causes', () => {
    // Opened: c, 1 event in 12 weeks; not opened: a and b, 2 in 15. D has no record.
    const effect = analysis.finding.effects?.find(({ key }) =>
      key.includes('ankle.blister or pressure sore.exact'),
    );
    expectNear(effect?.estimate, 1 / 12 / (2 / 15));
    expect(effect?.n).toBe(3);
    const causes = rowsOfTable(analysis, 'causes');
    expect(causes.find(({ kind }) => kind === 'blister')).toMatchObject({
      events: 2,
      'strap too tight': { count: 1, of: 2 },
      'poor fit': { count: 1, of: 2 },
      'not recorded': { count: 0, of: 2 },
    });
    expect(causes.at(-1)).toMatchObject({ kind: 'any skin event', 'not recorded': { count: 2, of: 5 } });
  });

  it('answers in two plain sentences', () => {
    expect(analysis.finding.statement).toBe(
      '2/4 (50\u202f%) feet had a blister or pressure sore (3 in all): 10.3 (2.13 to 30.2) per 100 foot-weeks. Within 7 days a clinician had seen 1/2 (50\u202f%) of them.',
    );
  });

  it('is sound', () => {
    expectSound(analysis);
  });
});

describe('skin safety in poor cohorts', () => {
  it('gives a rate of 0 its exact upper limit', () => {
    const none = skinSafety(cohortOf([FEET[3] as HandMadeFoot], CUT_OFF), plan);
    expect(measureOf(none, 'rate.blister.all')).toMatchObject({ estimate: 0, lower: 0 });
    expectNear(measureOf(none, 'rate.blister.all').upper, -Math.log(0.025) / 0.02);
    expect(measureOf(none, 'review.share').state).toBe('no data');
    expectSound(none);
  });

  it('stands a cohort without feet, or without a day of therapy', () => {
    const empty = skinSafety(cohortOf([], CUT_OFF), plan);
    expect(empty.finding.statement).toBe(
      'No foot was in therapy for a day, so skin events cannot be described.',
    );
    expectSound(empty);
    expectSound(skinSafety(cohortOf([{ id: 'z', end: [0, 'withdrawn'] }], CUT_OFF), plan));
  });
});
