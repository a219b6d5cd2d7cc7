import { describe, expect, it } from 'vitest';
import { phaseOccupancy } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith } from '../cohort/hand-made.ts';
import { expectNear } from '../statistics/near.ts';
import { expectSound, rowsOfTable } from './findings.ts';
import { measureOf } from './sample.ts';

const CUT_OFF = 130;
const SEEN = [[0, 3, PAST]] as const;

// Six feet of five infants with phases, and one without.
const FEET: readonly HandMadeFoot[] = [
  { id: 'f', seen: SEEN, phases: [[0, 24]] },
  {
    id: 'a',
    infant: 'one',
    end: [84, 'finished'],
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
    ],
  },
  // Back to full time on day 56, withdrawn on day 70.
  {
    id: 'b',
    infant: 'one',
    side: 'right',
    end: [70, 'withdrawn'],
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
      [56, 24],
    ],
  },
  // A spell on the last day has no length: from 12 hours to finished.
  {
    id: 'c',
    end: [84, 'finished'],
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
      [84, 15],
    ],
  },
  {
    id: 'd',
    end: [52, 'referred for casting'],
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
    ],
  },
  {
    id: 'e',
    seen: SEEN,
    phases: [
      [0, 24],
      [42, 15],
    ],
  },
  { id: 'x', seen: SEEN },
];

const plan = planWith({ occupancy: { weeks: 12, returnWeeks: [6, 12] } });
const analysis = phaseOccupancy(cohortOf(FEET, CUT_OFF), plan);
const at = (key: string) => measureOf(analysis, key);

describe('phase occupancy, worked out on paper', () => {
  it('gives the share of feet in each state by week', () => {
    // Nobody is censored before week 12, so the shares are counts over six feet.
    const shares = analysis.finding.occupancy?.[0];
    expect(shares?.states).toEqual(['24 hours', '15 hours', '12 hours', 'finished', 'left']);
    const inWeek = (week: number) => shares?.share.map(row => Math.round((row[week] ?? -1) * 6e9) / 1e9);
    expect(inWeek(0)).toEqual([6, 0, 0, 0, 0]);
    expect(inWeek(5)).toEqual([6, 0, 0, 0, 0]);
    expect(inWeek(6)).toEqual([1, 5, 0, 0, 0]);
    // Day 56: d has left, b went back.
    expect(inWeek(8)).toEqual([2, 3, 0, 0, 1]);
    expect(inWeek(9)).toEqual([2, 1, 2, 0, 1]);
    expect(inWeek(10)).toEqual([1, 1, 2, 0, 2]);
    expect(inWeek(12)).toEqual([1, 1, 0, 2, 2]);
    expect(shares?.inTherapy).toEqual([6, 6, 6, 6, 6, 6, 6, 6, 5, 5, 5, 4, 4]);
  });

  it('clusters the errors by infant', () => {
    const error = (state: number, week: number) =>
      analysis.finding.occupancy?.[0]?.standardError[state]?.[week];
    // Left by week 12: b and d. Influences (1 - 1/3)/6 for b and d, -1/18 for the others; a and b share an infant.
    expectNear(error(4, 12), Math.sqrt((2 - 1) ** 2 + 2 ** 2 + 3 * 1) / 18);
    // Finished: a and c. Infant one: 2 - 1.
    expectNear(error(3, 12), Math.sqrt((2 - 1) ** 2 + 2 ** 2 + 3 * 1) / 18);
    // 12 hours in week 9: the same two feet.
    expectNear(error(2, 9), Math.sqrt((2 - 1) ** 2 + 2 ** 2 + 3 * 1) / 18);
  });

  it('gives mean weeks in each state', () => {
    // Full time: 6 weeks for five feet, 2 more for b, 12 for f.
    expectNear(at('meanWeeks.24 hours.all').estimate, (30 + 2 + 12) / 6);
    // 15 hours: a 3, b 2, c 3, d 10 days, e 6.
    expectNear(at('meanWeeks.15 hours.all').estimate, (14 + 10 / 7) / 6);
    expectNear(at('meanWeeks.12 hours.all').estimate, 1);
    expect(at('meanWeeks.finished.all').estimate).toBe(0);
    // Left: d from day 52, b from day 70.
    expectNear(at('meanWeeks.left.all').estimate, (32 + 14) / 42);
    const inFullTime = [8, 6, 6, 6, 6, 12].map(weeks => weeks - 44 / 6);
    const [b = 0, a = 0, ...others] = inFullTime;
    const error = Math.sqrt((a + b) ** 2 + others.reduce((sum, own) => sum + own ** 2, 0)) / 6;
    expectNear(at('meanWeeks.24 hours.all').upper, 44 / 6 + 1.959963984540054 * error);
  });

  it('gives the chance of having gone back to full time, with the ends competing', () => {
    // By week 6 none of five infants: (1 - p)^5 = 0.025. By week 12 b alone of six feet, a and b being one infant:
    // influences (5 - 1)/36 for the two together, -1/36 for each of the others.
    expect(at('back.week6.all')).toMatchObject({ estimate: 0, lower: 0 });
    expectNear(at('back.week6.all').upper, 1 - 0.025 ** 0.2);
    expectNear(at('back.week12.all').estimate, 1 / 6);
    const shift = (1.959963984540054 * Math.sqrt(16 + 4)) / 36 / ((1 / 6) * Math.log(6));
    expectNear(at('back.week12.all').lower, Math.exp(-Math.log(6) * Math.exp(shift)));
    expect(analysis.trace['back.all']?.episodes).toEqual(['b']);
    expect(rowsOfTable(analysis, 'back-to-full-time')[0]).toMatchObject({ group: 'all', feet: 6, back: 1 });
  });

  it('leaves out a foot with no phase on record, and says so', () => {
    expect(analysis.finding.population).toEqual({
      feet: 6,
      infants: 5,
      leftOut: [{ reason: 'no phase on record', feet: 1, infants: 1 }],
    });
    expectSound(analysis);
  });

  it('answers in two plain sentences', () => {
    expect(analysis.finding.statement).toBe(
      'In the first 12 weeks a foot spent on average 7.3 (5.6 to 9.0) weeks at 24 hours, 2.6 (1.1 to 4.0) weeks at 15 hours and 1.0 (0.1 to 1.9) weeks at 12 hours a day. By week 12, 17\u202f% (2 to 45\u202f%) had gone back to full time.',
    );
  });
});

describe('phase occupancy in poor cohorts', () => {
  it('says so without any phase', () => {
    const none = phaseOccupancy(cohortOf([{ id: 'x', seen: SEEN }], CUT_OFF), plan);
    expect(none.finding.statement).toBe('No foot has a phase on record, so phases cannot be described.');
    expectSound(none);
    expectSound(phaseOccupancy(cohortOf([], CUT_OFF), plan));
  });

  it('does not carry shares on beyond the follow-up', () => {
    // The cut-off is on day 30: nothing is known of week 5 and later.
    const short = phaseOccupancy(cohortOf([{ id: 'f', seen: SEEN, phases: [[0, 24]] }], 30), plan);
    expect(short.finding.occupancy?.[0]?.week).toEqual([0, 1, 2, 3, 4]);
    expect(measureOf(short, 'meanWeeks.24 hours.all').state).toBe('not followed so long');
    expectSound(short);
  });

  it('carries shares on once every foot has ended', () => {
    const ended = phaseOccupancy(
      cohortOf([{ id: 'd', end: [30, 'withdrawn'], seen: SEEN, phases: [[0, 24]] }], CUT_OFF),
      plan,
    );
    expect(ended.finding.occupancy?.[0]?.share.map(row => row.at(-1))).toEqual([0, 0, 0, 0, 1]);
    expectNear(measureOf(ended, 'meanWeeks.left.all').estimate, 54 / 7);
    expectSound(ended);
  });

  it('leaves out a foot whose therapy has no day', () => {
    const sameDay = phaseOccupancy(
      cohortOf([{ id: 'd', end: [0, 'withdrawn'], seen: SEEN, phases: [[0, 24]] }], CUT_OFF),
      plan,
    );
    expect(sameDay.finding.population.leftOut[0]?.reason).toBe(
      'no day of therapy after the first phase began',
    );
    expectSound(sameDay);
  });
});
