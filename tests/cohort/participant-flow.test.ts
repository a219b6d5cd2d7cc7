import { describe, expect, it } from 'vitest';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import type { Cohort } from '../../src/cohort/cohort.ts';
import { oneFootPerInfant } from '../../src/cohort/one-foot-per-infant.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import type { ExportRecords, Problem } from '../../src/records/records.ts';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, days, footNamed, PAST, planWith, rowsOf, SHORT, TO } from './hand-made.ts';

// docs/definitions.md, The foot, the infant, the episode; Participant flow. Cut-off on day 60.
const phases = [
  [0, 24],
  [42, 15],
] as const;
const feet: readonly HandMadeFoot[] = [
  // Infant 1, both feet: mild and severe.
  { id: 'a', infant: '1', side: 'left', seen: [[0, 3, PAST]], phases, worn: [[2, days(20, 20)]] },
  { id: 'b', infant: '1', side: 'right', seen: [[0, 5, SHORT]], phases },
  // Infant 2, both feet moderate: a tie.
  {
    id: 'd',
    infant: '2',
    side: 'left',
    seen: [[0, 4, TO]],
    end: [42, 'withdrawn'],
    phases,
    worn: [[2, [0]]],
  },
  { id: 'c', infant: '2', side: 'right', seen: [[0, 3.5, TO]], end: [30, 'finished'], phases },
  // Infant 3, two courses of the left foot: not bilateral. The second was not examined at baseline.
  { id: 'e', infant: '3', side: 'left', seen: [[0, 2, PAST]] },
  { id: 'f', infant: '3', side: 'left' },
  // Infant 4: mild or moderate, the crease not recorded.
  { id: 'g', infant: '4', seen: [[0, 3, PAST, { kind: 'baseline' }]], end: [0, 'moved away'] },
];
// The shorthand records a crease as absent on day 0; foot g is to have none recorded.
const rows = rowsOf(feet, 60);
const records = recordsFromRows({
  ...rows,
  assessments: (rows.assessments ?? []).map(row =>
    row.episode_id === 'g' ? { ...row, medial_crease: undefined } : row,
  ),
});

function lines(cohort: Cohort): Record<string, [number, number, string]> {
  return Object.fromEntries(
    cohort.flow.map(({ key, counted }) => [key, [counted.feet, counted.infants, counted.episodes.join('')]]),
  );
}

describe('the feet of an infant', () => {
  const cohort = buildCohort(records, planWith());

  it('is bilateral with both sides only', () => {
    expect(cohort.feet.filter(foot => foot.bilateral).map(foot => foot.episode)).toEqual([
      'a',
      'b',
      'c',
      'd',
    ]);
  });

  it('keeps the worse band, of a tie the lower code', () => {
    // Infant 3: straight comes before not known.
    expect(oneFootPerInfant(cohort.feet).map(foot => foot.episode)).toEqual(['b', 'c', 'e', 'g']);
  });

  it('keeps the same foot whatever the order', () => {
    expect(oneFootPerInfant([...cohort.feet].reverse()).map(foot => foot.episode)).toEqual([
      'g',
      'e',
      'c',
      'b',
    ]);
  });

  it('keeps one foot in the whole cohort, which stays bilateral', () => {
    const one = buildCohort(records, planWith({ feet: { use: 'one per infant' } }));
    expect(one.feet.map(foot => foot.episode)).toEqual(['b', 'c', 'e', 'g']);
    expect(one.feet.map(foot => foot.bilateral)).toEqual([true, true, false, false]);
    expect(one.stepDowns.map(stepDown => [stepDown.episode, stepDown.step])).toEqual([
      ['b', '24 to 15'],
      ['c', '24 to none'],
    ]);
    expect(lines(one)).toMatchObject({
      accepted: [7, 4, 'abcdefg'],
      'other-foot': [3, 3, 'adf'],
      'one-per-infant': [4, 4, 'bceg'],
      banded: [2, 2, 'bc'],
    });
  });
});

describe('participant flow', () => {
  it('counts feet and infants at each step', () => {
    expect(lines(buildCohort(records, planWith()))).toEqual({
      read: [7, 0, ''],
      refused: [0, 0, ''],
      accepted: [7, 4, 'abcdefg'],
      straight: [1, 1, 'e'],
      'not-known': [2, 2, 'fg'],
      'not-known.bisector-flexibility-crease': [1, 1, 'f'],
      'not-known.crease': [1, 1, 'g'],
      banded: [4, 2, 'abcd'],
      'banded.mild': [1, 1, 'a'],
      'banded.moderate': [2, 1, 'cd'],
      'banded.severe': [1, 1, 'b'],
      correction: [4, 2, 'abcd'],
      'correction.straight-at-baseline': [1, 1, 'e'],
      'correction.severity-band-not-known': [2, 2, 'fg'],
      // a, b: 24 to 15 on day 42, 18 days at risk. d: on its last day. c: finished and not seen after.
      relapse: [2, 1, 'ab'],
      'relapse.no-step-down': [3, 2, 'efg'],
      'relapse.not-seen-after-any-step-down': [2, 1, 'cd'],
      // a has 20 days of data, d one.
      lapse: [1, 1, 'a'],
      'lapse.no-wear-data': [6, 4, 'bcdefg'],
      discontinuation: [2, 2, 'ad'],
      'discontinuation.no-wear-data': [5, 4, 'bcefg'],
      duration: [4, 2, 'abcd'],
      'duration.straight-at-baseline': [1, 1, 'e'],
      'duration.severity-band-not-known': [2, 2, 'fg'],
      skin: [6, 3, 'abcdef'],
      'skin.no-time-at-risk': [1, 1, 'g'],
    });
  });

  it('says how many rows were refused, each under its first problem', () => {
    const problem = (line: number, kind: string, rest: Partial<Problem> = {}): Problem => ({
      kind,
      severity: 'refused',
      file: 'episodes.csv',
      line,
      field: undefined,
      value: undefined,
      allowed: '',
      message: '',
      ...rest,
    });
    const refusing: ExportRecords = {
      ...records,
      counts: { ...records.counts, episodes: { ...records.counts.episodes, read: 10, refused: 3 } },
      problems: [
        problem(4, 'not-a-date'),
        problem(4, 'not-a-code'),
        problem(9, 'not-a-date'),
        problem(12, 'duplicate-key'),
        problem(13, 'unusual-value', { severity: 'warning' }),
        problem(4, 'out-of-range', { file: 'wear.csv' }),
      ],
    };
    const { flow } = buildCohort(refusing, planWith());
    expect(
      flow
        .filter(({ rowsOnly }) => rowsOnly)
        .map(({ key, label, depth, counted }) => [key, label, depth, counted.feet]),
    ).toEqual([
      ['read', 'Episodes in the file', 0, 10],
      ['refused', 'Refused', 0, 3],
      ['refused.duplicate-key', 'duplicate key', 1, 1],
      ['refused.not-a-date', 'not a date', 1, 2],
    ]);
  });

  it('has a line for every group when there is nobody', () => {
    const empty = cohortOf([], 10);
    expect(empty.feet).toEqual([]);
    expect(lines(empty)['banded.severe']).toEqual([0, 0, '']);
  });
});

describe('the course of a foot', () => {
  it('takes the end of therapy from the record, or the cut-off', () => {
    const cohort = buildCohort(records, planWith());
    expect(
      ['a', 'c', 'd', 'g'].map(id => [footNamed(cohort, id).lastDay, footNamed(cohort, id).end]),
    ).toEqual([
      [60, 'in therapy'],
      [30, 'finished'],
      [42, 'withdrawn'],
      [0, 'moved away'],
    ]);
  });
});
