import { describe, expect, it } from 'vitest';
import { laggedRows } from '../../src/analyses/adherence/lagged-adherence.ts';
import { adherence } from '../../src/analyses/index.ts';
import { cohortOf, days, type HandMadeFoot, PAST, planWith } from '../cohort/hand-made.ts';
import { expectNear } from '../statistics/near.ts';
import { expectSound, rowsOfTable } from './findings.ts';
import { measureOf } from './sample.ts';

const CUT_OFF = 30;
const PHASES = [[0, 24]] as const;
const SEEN = [[0, 3, PAST]] as const;

// Five feet of four infants in full time (23 hours expected), in therapy at the cut-off; adherence days 2 to 30.
const FEET: readonly HandMadeFoot[] = [
  // Worn in full on days 2 to 15, not at all on days 16 to 29.
  {
    id: 'p',
    infant: 'one',
    seen: SEEN,
    phases: PHASES,
    worn: [
      [16, days(14, 0)],
      [2, days(14, 23)],
    ],
  },
  // Worn in full; a sensor on four days: twice the same, twice two hours less.
  {
    id: 'q',
    seen: SEEN,
    phases: PHASES,
    worn: [
      [2, days(28, 23)],
      [2, [23, 23, 21, 21], 'sensor'],
    ],
  },
  { id: 'r', seen: SEEN, phases: PHASES },
  // Three days of data only: too few for a lapse to be seen.
  { id: 's', seen: SEEN, phases: PHASES, worn: [[2, days(3, 23)]] },
  // The other foot of the first infant, worn in full; a sensor every day, one hour less.
  {
    id: 't',
    infant: 'one',
    side: 'right',
    seen: SEEN,
    phases: PHASES,
    worn: [
      [2, days(28, 22), 'sensor'],
      [2, days(28, 23)],
    ],
  },
];

const DIARY_FIRST = { adherence: { sourceOrder: ['diary', 'sensor', 'recall'] } };
const plan = planWith(DIARY_FIRST);
const analysis = adherence(cohortOf(FEET, CUT_OFF, DIARY_FIRST), plan);
const at = (key: string) => measureOf(analysis, key);

describe('adherence, worked out on paper', () => {
  it('follows feet with wear data for lapse and discontinuation', () => {
    // P: two of seven days at 0 on day 17 are 5/7; the seventh day in a row not worn is day 22.
    expect(at('followed.lapse.all').estimate).toBe(3);
    expect(at('events.lapse.all').estimate).toBe(1);
    expect(at('notEvaluable.lapse')).toMatchObject({ estimate: 1, infants: 1 });
    expect(at('followed.discontinuation.all')).toMatchObject({ estimate: 4, infants: 3 });
    expect(analysis.trace['events.discontinuation.all']?.episodes).toEqual(['p']);
    expectNear(at('without.week2.lapse.all').estimate, 1);
    expect(analysis.finding.population).toEqual({
      feet: 4,
      infants: 3,
      leftOut: [{ reason: 'no wear data', feet: 1, infants: 1 }],
    });
  });

  it('gives the quartiles of adherence by week', () => {
    // Week 3 is days 14 to 20: p 2/7, q and t 1; the quarter lies half way between the first two.
    const rows = rowsOfTable(analysis, 'by-week');
    expect(rows[0]).toMatchObject({ week: 1, feet: 4, infants: 3 });
    expect(rows[2]).toMatchObject({ week: 3, feet: 3, infants: 2 });
    const third = rows[2]?.adherence as { median: number; lowerQuartile: number };
    expect(third.median).toBe(1);
    expectNear(third.lowerQuartile, (2 / 7 + 1) / 2);
    expect(rows.map(({ week }) => week)).toEqual([1, 2, 3, 4, 5]);
  });

  it('gives the days covered and the share of feet that reach the threshold, clustered by infant', () => {
    // P half, the others all. Share 3/4; infant one (0.25 - 0.75), q and s 0.25 each:
    // variance (0.25 + 2 x 0.0625) x 3/2 / 16.
    expectNear(at('daysCovered.lowerQuartile.all').estimate, 0.875);
    expect(at('daysCovered.median.all').estimate).toBe(1);
    const share = at('daysCovered.shareReached.all');
    expect(share.estimate).toBe(0.75);
    const reach = (1.959963984540054 * Math.sqrt((0.375 * 1.5) / 16)) / (0.75 * 0.25);
    expectNear(share.lower, 3 / (3 + Math.exp(reach)));
    expectNear(share.upper, 3 / (3 + Math.exp(-reach)));
    expect(analysis.trace['daysCovered.reached.all']?.episodes).toEqual(['q', 's', 't']);
  });

  it('compares diary and sensor on days with both, within and between feet', () => {
    // Differences 0, 0, 2, 2 in q and 1 on 28 days in t: bias 1, no variance between feet, 4/(32 - 2) within.
    expect(at('diary.days').estimate).toBe(32);
    expect(at('diary.feet')).toMatchObject({ estimate: 2, infants: 2 });
    expectNear(at('diary.bias').estimate, 1);
    expectNear(at('diary.upperLimit').estimate, 1 + 1.96 * Math.sqrt(4 / 30));
    expectNear(at('diary.lowerLimit').estimate, 1 - 1.96 * Math.sqrt(4 / 30));
    // Every resample of the two infants has the same bias; its spread is 0 (t twice), 4/30 or, of q twice, 8/(8 - 2).
    expectNear(at('diary.bias').lower, 1);
    expectNear(at('diary.upperLimit').lower, 1);
    expectNear(at('diary.upperLimit').upper, 1 + 1.96 * Math.sqrt(8 / 6));
  });

  it('answers in two short sentences', () => {
    expect(analysis.finding.statement).toBe(
      'Over 7 days, wear fell under 80\u202f% of the hours expected in 1/3 (33\u202f%) feet; half of the feet had not lapsed by the end of follow-up. The brace was given up in 1/4 (25\u202f%) feet.',
    );
  });

  it('is sound', () => {
    expectSound(analysis);
  });
});

describe('lagged adherence before correction', () => {
  // Worn 23, 11.5, 23, no record, 11.5 of 23 hours on days 2 to 6; corrected on day 7.
  const foot: HandMadeFoot = {
    id: 'u',
    seen: [
      [0, 3, PAST],
      [7, 2, PAST],
    ],
    phases: PHASES,
    worn: [[2, [23, 11.5, 23, undefined, 11.5, 0, 0]]],
  };
  const { feet } = cohortOf([foot, { id: 'r', seen: SEEN, phases: PHASES }], CUT_OFF);

  it('takes the days before, those with data only, and joins days of one value', () => {
    // Day 3: 1; day 4: (1 + 0.5)/2; days 5 and 6: 2.5/3; day 7: 3/4. What was worn on day 7 and after plays no part.
    const rows = laggedRows(feet, 'missing', planWith());
    expect(Array.from(rows.entry)).toEqual([2, 3, 4, 6]);
    expect(Array.from(rows.time)).toEqual([3, 4, 6, 7]);
    expect(Array.from(rows.event)).toEqual([0, 0, 0, 1]);
    expect(Array.from(rows.adherence)).toEqual([1, 0.75, 2.5 / 3, 0.75]);
    expect(rows).toMatchObject({ footDays: 5, corrections: 1, correctionsWithoutValue: 0 });
    expect(rows.feet.map(({ episode }) => episode)).toEqual(['u']);
  });

  it('counts a missing day as not worn under the other rule', () => {
    const rows = laggedRows(feet, 'not worn', planWith());
    expect(Array.from(rows.time)).toEqual([3, 4, 5, 6, 7]);
    expect(Array.from(rows.adherence)).toEqual([1, 0.75, 2.5 / 3, 2.5 / 4, 3 / 5]);
  });

  it('leaves out a correction with no data before it, and counts it', () => {
    const late = cohortOf(
      [
        {
          ...foot,
          seen: [
            [0, 3, PAST],
            [20, 2, PAST],
          ],
        },
      ],
      CUT_OFF,
    ).feet;
    // The last row is of day 8: no value from day 16 on.
    const rows = laggedRows(late, 'missing', planWith());
    expect(rows.time.at(-1)).toBe(15);
    expect(rows).toMatchObject({ corrections: 0, correctionsWithoutValue: 1 });
    expect(Array.from(rows.event).every(event => event === 0)).toBe(true);
  });

  it('looks back over as many days as the plan says', () => {
    const rows = laggedRows(feet, 'missing', planWith({ adherence: { laggedDays: 1 } }));
    // Day 6 has no day before it with data.
    expect(Array.from(rows.time)).toEqual([3, 4, 5, 7]);
    expect(Array.from(rows.adherence)).toEqual([1, 0.5, 1, 0.5]);
  });
});

describe('adherence in poor cohorts', () => {
  it('says so without wear data', () => {
    const none = adherence(cohortOf([FEET[2] as HandMadeFoot], CUT_OFF), planWith());
    expect(none.finding.statement).toBe('No foot has enough wear data, so adherence cannot be described.');
    expect(measureOf(none, 'diary.bias').state).toBe('no data');
    expect(measureOf(none, 'model.hazardRatio.missing').state).toBe('no data');
    expect(none.finding.tables.some(({ key }) => key === 'diary')).toBe(false);
    expectSound(none);
  });

  it('gives one foot no limits that another infant is needed for', () => {
    const one = adherence(cohortOf([FEET[1] as HandMadeFoot], CUT_OFF), planWith());
    expect(measureOf(one, 'diary.bias').state).toBe('fewer than two feet');
    expect(measureOf(one, 'daysCovered.shareReached.all').lower).toBeUndefined();
    expect(measureOf(one, 'model.hazardRatio.missing').state).toBe('fewer than two infants');
    expectSound(one);
  });

  it('gives two feet of a single infant an estimate without limits', () => {
    const infant = adherence(
      cohortOf([FEET[0] as HandMadeFoot, FEET[4] as HandMadeFoot], CUT_OFF),
      planWith(),
    );
    // P lapsed on day 17, t did not: half at week 3 and on; the clustered error of a single infant would be 0.
    const [, , ...later] = infant.finding.curves.find(({ key }) => key === 'lapse.all')?.estimate ?? [];
    expect(later).toEqual([0.5]);
    const curve = infant.finding.curves.find(({ key }) => key === 'lapse.all');
    expect(curve?.lower.slice(1)).toEqual([undefined, undefined]);
    expect(measureOf(infant, 'without.week2.lapse.all').lower).toBeUndefined();
    expectSound(infant);
  });

  it('stands an empty cohort', () => {
    expectSound(adherence(cohortOf([], CUT_OFF), planWith()));
  });
});
