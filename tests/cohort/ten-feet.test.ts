// Ten feet in which every ending and turn of the definitions occurs once, each answer worked out on paper beside it.
import { describe, expect, it } from 'vitest';
import { type Analysis, analyseCohort, analyseDuration } from '../../src/analyses/index.ts';
import type { Foot } from '../../src/cohort/index.ts';
import { cohortOf, days, footNamed, type HandMadeFoot, PAST, planWith, stepDownsNamed } from './hand-made.ts';

/** A mild foot at first fitting; position 3 is uncorrected. */
const MILD = [0, 3, PAST] as const;
const CUT_OFF = 140;

const FEET: readonly HandMadeFoot[] = [
  {
    // Corrected at the first checkup; finishes on day 84. One of both feet of an infant.
    id: 'first',
    infant: 'pair',
    side: 'left',
    end: [84, 'finished'],
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
    ],
    seen: [MILD, [14, 2, PAST], [42, 2, PAST], [63, 2, PAST], [84, 2, PAST], [105, 2, PAST]],
  },
  {
    // The other foot: a half position worse on day 63, the day on which its hours are cut again.
    id: 'relapse',
    infant: 'pair',
    side: 'right',
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
    ],
    seen: [MILD, [14, 3, PAST], [42, 2.5, PAST], [63, 3, PAST], [84, 3, PAST]],
  },
  {
    // Returned to full time on day 70, cut again on day 98.
    id: 'back',
    phases: [
      [0, 24],
      [42, 15],
      [70, 24],
      [98, 15],
    ],
    seen: [MILD, [42, 2.5, PAST], [70, 2.5, PAST], [98, 2.5, PAST]],
  },
  {
    // Withdrawn on day 30. 20 of 23 expected hours are 87 %; rows up to day 20.
    id: 'withdrawn',
    end: [30, 'withdrawn'],
    phases: [[0, 24]],
    seen: [MILD, [14, 3, PAST]],
    worn: [[2, days(19, 20)]],
  },
  // Still in therapy at the cut-off, never corrected, no wear data; a blister on day 20.
  {
    id: 'in-therapy',
    phases: [[0, 24]],
    seen: [MILD, [14, 3, PAST], [56, 3, PAST]],
    events: [[20, 'blister', { reviewed: 24 }]],
  },
  {
    // Seven days of 23 hours, then 10 a day.
    id: 'lapsed',
    phases: [[0, 24]],
    seen: [MILD, [28, 2, PAST]],
    worn: [
      [2, days(7, 23)],
      [9, days(20, 10)],
    ],
  },
  {
    // Eight days of 23 hours, then seven of none; referred on day 60.
    id: 'stopped',
    end: [60, 'referred for casting'],
    phases: [[0, 24]],
    seen: [MILD, [14, 3, PAST]],
    worn: [
      [2, days(8, 23)],
      [10, days(7, 0)],
    ],
  },
  {
    id: 'finished-uncorrected',
    end: [84, 'finished'],
    phases: [[0, 24]],
    seen: [MILD, [42, 3, PAST], [84, 3, PAST]],
  },
  {
    // Its baseline was made five days after first fitting.
    id: 'late-baseline',
    phases: [[0, 24]],
    seen: [
      [5, 3, PAST, { kind: 'baseline', crease: false }],
      [14, 2, PAST],
    ],
  },
  { id: 'straight', phases: [[0, 24]], seen: [[0, 2, PAST]] },
];

const plan = planWith();
const cohort = cohortOf(FEET, CUT_OFF);
const analyses: readonly Analysis[] = [...analyseCohort(cohort, plan), ...analyseDuration(cohort, plan)];

function measure(finding: string, key: string) {
  const found = analyses
    .find(analysis => analysis.finding.key === finding)
    ?.finding.measures.find(candidate => candidate.key === key);
  if (found === undefined) throw new Error(`no ${finding}/${key}`);
  return found;
}

describe('ten feet, worked out on paper: each foot', () => {
  const never = Number.POSITIVE_INFINITY;
  it.each([
    // Corrected at the first checkup: nothing is known between first fitting and day 14.
    ['first', 14, 1, 0, 14],
    ['relapse', 42, 1, 14, 42],
    ['back', 42, 1, 0, 42],
    ['withdrawn', 30, 3, 14, never],
    ['in-therapy', 140, 0, 56, never],
    ['lapsed', 28, 1, 0, 28],
    ['stopped', 60, 2, 14, never],
    ['finished-uncorrected', 84, 4, 84, never],
    // The late baseline found it uncorrected on day 5, and dates no correction.
    ['late-baseline', 14, 1, 5, 14],
  ])('correction of %s', (id, day, cause, lower, upper) => {
    expect(footNamed(cohort, id).correction).toEqual({ day, cause, interval: { lower, upper } });
  });

  it('bands nine feet as mild and one as straight; one infant has both feet', () => {
    expect(cohort.feet.filter(foot => foot.band === 'mild')).toHaveLength(9);
    expect(footNamed(cohort, 'straight').band).toBe('straight');
    expect(cohort.feet.filter(foot => foot.bilateral).map(foot => foot.episode)).toEqual([
      'first',
      'relapse',
    ]);
    // Of two mild feet the one with the lower code stays.
    const one = cohortOf(FEET, CUT_OFF, { feet: { use: 'one per infant' } });
    expect(one.feet.map(foot => foot.episode)).not.toContain('relapse');
    expect(one.feet).toHaveLength(9);
  });

  it.each([
    // 21 days to each next step-down; after the end last seen on day 105.
    [
      'first',
      [
        [42, 15, 21, 2, undefined],
        [63, 12, 21, 2, undefined],
        [84, 0, 21, 0, undefined],
      ],
    ],
    // Worse on the day of the next step-down: the relapse comes first, and is that of the earlier step-down. From day 63
    // position 3 is the reference, so 3 on day 84 is none.
    [
      'relapse',
      [
        [42, 15, 21, 1, 'bisector worse'],
        [63, 12, 77, 0, undefined],
      ],
    ],
    [
      'back',
      [
        [42, 15, 28, 1, 'longer hours'],
        [98, 15, 42, 0, undefined],
      ],
    ],
    // The end by finishing is a step-down to none; it was not seen again.
    ['finished-uncorrected', [[84, 0, 0, 0, undefined]]],
    ['withdrawn', []],
    ['in-therapy', []],
  ])('step-downs of %s', (id, expected) => {
    expect(
      stepDownsNamed(cohort, id).map(({ day, toHours, daysAtRisk, cause, sign }) => [
        day,
        toHours,
        daysAtRisk,
        cause,
        sign,
      ]),
    ).toEqual(expected);
  });

  it.each<[string, Foot['lapse'], Foot['discontinuation']]>([
    // Four days of data lie in the seven up to day 23 (17 to 20), three in those up to day 24.
    ['withdrawn', { day: 23, event: false }, { day: 30, event: true }],
    // Means of seven days: day 10 (5 + 2 x 10/23) / 7 = 84 %, day 11 (4 + 3 x 10/23) / 7 = 76 %.
    ['lapsed', { day: 11, event: true }, { day: 140, event: false }],
    // Day 10: 6/7 = 86 %; day 11: 5/7 = 71 %. The seventh day of none is day 16.
    ['stopped', { day: 11, event: true }, { day: 16, event: true }],
    ['in-therapy', undefined, undefined],
    ['first', undefined, undefined],
  ])('lapse and discontinuation of %s', (id, lapse, discontinuation) => {
    const foot = footNamed(cohort, id);
    expect(foot.lapse).toEqual(lapse);
    expect(foot.discontinuation).toEqual(discontinuation);
  });
});

describe('ten feet, worked out on paper: the cohort', () => {
  it('has 5 of 9 mild feet corrected by week 6, with the infant of two feet counted once in the error', () => {
    const {
      estimate = 0,
      lower = 0,
      upper = 0,
      n,
      infants,
    } = measure('time-to-correction', 'corrected.week6.mild');
    expect({ n, infants }).toEqual({ n: 9, infants: 8 });
    expect(estimate).toBeCloseTo(5 / 9, 12);
    // Nobody is censored before day 42, so the influence of a foot is (1 or 0 less 5/9) / 9. Both feet of the pair are
    // corrected: (8/9)/9 together. Three others: (4/9)/9 each; four not: (5/9)/9 each. 64 + 3 x 16 + 4 x 25 = 212.
    const error = Math.sqrt(212) / 81;
    const reach = (1.959963984540054 * error) / ((5 / 9) * Math.log(5 / 9));
    expect(lower).toBeCloseTo((5 / 9) ** Math.exp(-reach), 10);
    expect(upper).toBeCloseTo((5 / 9) ** Math.exp(reach), 10);
    expect(
      ['censored', 'referred', 'withdrawn', 'finished uncorrected'].map(
        cause => measure('time-to-correction', `${cause}.mild`).estimate,
      ),
    ).toEqual([1, 1, 1, 1]);
  });

  it('counts step-downs, relapses and the step-down not seen again', () => {
    const at = (key: string) => measure('relapse-after-step-down', `${key}.any step-down.all`).estimate;
    // Eight step-downs, seven with time at risk: 21 + 21 + 21 + 21 + 77 + 28 + 42 = 231 days, two relapses.
    expect(['stepDowns', 'followed', 'notSeenAfter', 'relapses'].map(at)).toEqual([8, 7, 1, 2]);
    expect(at('rate')).toBeCloseTo((100 * 2) / (231 / 7), 12);
  });

  it('has one of ten feet back at full time by week 12, and the others where they were prescribed', () => {
    // Day 84: two finish; one withdrawn and one referred have left; relapse is at 12 hours; the five others at 24.
    const at = (state: string) => measure('phase-occupancy', `share.week12.${state}.all`).estimate ?? 0;
    expect(at('finished')).toBeCloseTo(0.2, 12);
    expect(at('left')).toBeCloseTo(0.2, 12);
    expect(at('12 hours')).toBeCloseTo(0.1, 12);
    expect(at('15 hours')).toBe(0);
    expect(at('24 hours')).toBeCloseTo(0.5, 12);
    expect(measure('phase-occupancy', 'back.week12.all').estimate).toBeCloseTo(0.1, 12);
  });

  it('has two of nine feet finished by week 12, with withdrawal and referral competing', () => {
    expect(measure('severity-and-duration', 'finished.week12.mild').estimate).toBeCloseTo(2 / 9, 12);
    const ends = ['finished', 'referred', 'withdrawn', 'censored'];
    expect(ends.map(end => measure('severity-and-duration', `${end}.mild`).estimate)).toEqual([2, 1, 1, 5]);
  });

  it('follows three feet for lapse and counts seven without wear data', () => {
    const adherence = analyses.find(({ finding }) => finding.key === 'adherence')?.finding;
    expect(adherence?.population).toEqual({
      feet: 3,
      infants: 3,
      leftOut: [{ reason: 'no wear data', feet: 7, infants: 6 }],
    });
    // The same three have hours worn up to correction or the end of observation.
    expect(measure('time-to-correction', 'dose.median.mild').n).toBe(3);
  });

  it('has one blister, reviewed in time, over the days of therapy of ten feet', () => {
    // 84 + 140 + 140 + 30 + 140 + 140 + 60 + 84 + 140 + 140 = 1098 days.
    expect(measure('skin-safety', 'rate.blister.all').estimate).toBeCloseTo(100 / (1098 / 7), 12);
    expect(measure('skin-safety', 'review.share').estimate).toBe(1);
    expect(measure('skin-safety', 'firstSore.week4.all').estimate).toBeCloseTo(0.1, 12);
  });
});
