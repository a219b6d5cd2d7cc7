import { describe, expect, it } from 'vitest';
import { assessorAgreement } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith, type Seen, TO } from '../cohort/hand-made.ts';
import { measureOf, tableOf } from './looking.ts';

function pair(day: number, first: Partial<Row>, second: Partial<Row>): readonly Seen[] {
  const row = ({ position, flexibility, crease }: Partial<Row>, by: string): Seen => [
    day,
    position,
    flexibility,
    { by, ...(crease === undefined ? {} : { crease }) },
  ];
  return [row(second, 'other'), row(first, 'treating')];
}

interface Row {
  readonly position: number;
  readonly flexibility: typeof PAST | typeof TO;
  readonly crease: boolean;
}

// Four pairs: positions agree in three, the fourth is 3 against 4; one flexibility is not recorded.
const FEET: readonly HandMadeFoot[] = [
  {
    id: 'b',
    clinician: 'treating',
    seen: [
      ...pair(
        42,
        { position: 3, flexibility: PAST, crease: true },
        { position: 4, flexibility: TO, crease: true },
      ),
      ...pair(
        0,
        { position: 3, flexibility: TO, crease: true },
        { position: 3, flexibility: TO, crease: true },
      ),
      [20, 3, TO, { by: 'treating' }],
    ],
  },
  {
    id: 'a',
    clinician: 'treating',
    seen: [
      ...pair(
        0,
        { position: 4, flexibility: PAST, crease: true },
        { position: 4, flexibility: PAST, crease: true },
      ),
      ...pair(70, { position: 4, crease: true }, { position: 4, flexibility: PAST, crease: true }),
    ],
  },
  { id: 'c', seen: [[0, 3, PAST]] },
];
const cohort = cohortOf(FEET, 100);
const { finding, trace } = assessorAgreement(cohort, planWith());

describe('paired assessments of the cohort', () => {
  it('holds each other row beside the one that counts, by episode and day', () => {
    expect(cohort.pairedAssessments.map(({ episode, day }) => [episode, day])).toEqual([
      ['a', 0],
      ['a', 70],
      ['b', 0],
      ['b', 42],
    ]);
    const last = cohort.pairedAssessments.at(-1);
    expect(last?.counting).toMatchObject({ assessor: 'treating', bisectorPosition: 3, flexibility: PAST });
    expect(last?.other).toMatchObject({ assessor: 'other', bisectorPosition: 4, flexibility: TO });
  });

  it('has three assessors of one day as two pairs with the one that counts', () => {
    const seen: readonly Seen[] = [
      [7, 3, PAST, { by: 'z' }],
      [7, 3.5, PAST, { by: 'k' }],
      [7, 4, PAST, { by: 'a' }],
    ];
    const pairs = cohortOf([{ id: 'x', seen }], 20).pairedAssessments;
    expect(pairs.map(({ counting, other }) => [counting.assessor, other.assessor])).toEqual([
      ['a', 'k'],
      ['a', 'z'],
    ]);
  });
});

describe('agreement between assessors', () => {
  it('weighs a disagreement by its steps', () => {
    // Seven positions, six steps: 3 against 4 is two steps, credit 2/3 (linear) and 8/9 (quadratic).
    // First rater: 3, 3, 4, 4; second: 3, 4, 4, 4. By the margins, 3 and 3: 1/8, 4 and 4: 3/8, apart: 1/2.
    const kappa = (credit: number): number => {
      const observed = (3 + credit) / 4;
      const expected = 1 / 2 + credit / 2;
      return (observed - expected) / (1 - expected);
    };
    expect(measureOf(finding, 'kappa.position.linear').estimate).toBeCloseTo(kappa(2 / 3), 12);
    expect(measureOf(finding, 'kappa.position.quadratic').estimate).toBeCloseTo(kappa(8 / 9), 12);
  });

  it('leaves out pairs in which a finding is not recorded', () => {
    // First: to, past, past; second: to, past, to. Observed 2/3; expected 1/3 x 2/3 + 2/3 x 1/3 = 4/9.
    const flexibility = measureOf(finding, 'kappa.flexibility');
    expect(flexibility.n).toBe(3);
    expect(flexibility.estimate).toBeCloseTo((2 / 3 - 4 / 9) / (5 / 9), 12);
    expect(flexibility.upper).toBeLessThanOrEqual(1);
  });

  it('has no kappa where everybody found the same', () => {
    expect(measureOf(finding, 'kappa.crease').state).toBe('all found alike');
    const row = tableOf(finding, 'agreement').rows.find(({ finding: name }) => name === 'Medial crease');
    expect(row?.same).toEqual({ count: 4, of: 4 });
  });

  it('says so in these words, and who is behind it', () => {
    expect(finding.statement.replaceAll('\u202F', ' ').replaceAll('\u00A0', ' ')).toBe(
      '4 pairs of assessments of 2 feet were compared. Both gave the same bisector position in 3/4 (75 %), kappa with linear weights 0.50 (−0.23 to 1.00).',
    );
    expect(trace.pairs?.episodes).toEqual(['a', 'b']);
    expect(finding.population.leftOut).toEqual([
      { reason: 'never assessed by two on one day', feet: 1, infants: 1 },
    ]);
  });
});
