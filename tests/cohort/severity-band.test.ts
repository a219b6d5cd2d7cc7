import { describe, expect, it } from 'vitest';
import type { Band, BandOrNone, Grade } from '../../src/cohort/cohort.ts';
import { bisectorGrade, flexibilityGrade, severityBand } from '../../src/cohort/severity-band.ts';
import { cohortOf, footNamed, PAST, planWith, SHORT, TO } from './hand-made.ts';

// docs/definitions.md, Baseline.
const positions = [2, 2.5, 3, 3.5, 4, 4.5, 5];

describe('the two grades', () => {
  it('follows the scheme by toe', () => {
    expect(positions.map(position => bisectorGrade(position, 'toe'))).toEqual([
      'straight',
      'straight',
      'mild',
      'moderate',
      'moderate',
      'severe',
      'severe',
    ]);
  });

  it('follows the scheme by web', () => {
    expect(positions.map(position => bisectorGrade(position, 'web'))).toEqual([
      'straight',
      'straight',
      'mild',
      'moderate',
      'severe',
      'severe',
      'severe',
    ]);
  });

  it('grades flexibility', () => {
    expect(([PAST, TO, SHORT] as const).map(flexibilityGrade)).toEqual(['mild', 'moderate', 'severe']);
  });
});

describe('severity band of complete findings', () => {
  type Case = [Grade, Band, boolean, BandOrNone];
  // The worse of the two; a crease lifts mild to moderate and nothing else; straight and past straight has no band.
  it.each<Case>([
    ['straight', 'mild', false, 'straight'],
    ['straight', 'mild', true, 'straight'],
    ['straight', 'moderate', false, 'moderate'],
    ['mild', 'mild', false, 'mild'],
    ['mild', 'mild', true, 'moderate'],
    ['moderate', 'mild', true, 'moderate'],
    ['mild', 'severe', true, 'severe'],
    ['severe', 'mild', false, 'severe'],
  ])('%s bisector, %s flexibility, crease %s: %s', (bisector, flexibility, crease, band) => {
    expect(severityBand({ bisector, flexibility, crease }, planWith().severity)).toEqual({
      band,
      missing: [],
    });
  });

  it('leaves the crease out of the plain worse-of rule when the plan says so', () => {
    const { severity } = planWith({ severity: { creaseLiftsMild: false } });
    expect(severityBand({ bisector: 'mild', flexibility: 'mild', crease: true }, severity).band).toBe('mild');
    expect(severityBand({ bisector: 'mild', flexibility: 'mild', crease: undefined }, severity).band).toBe(
      'mild',
    );
  });

  it('takes one grade alone under the other rules, without the crease', () => {
    const findings = { bisector: 'straight', flexibility: 'mild', crease: true } as const;
    const alone = (rule: string) => severityBand(findings, planWith({ severity: { rule } }).severity).band;
    expect(alone('bisector alone')).toBe('straight');
    expect(alone('flexibility alone')).toBe('mild');
  });
});

describe('severity band with findings missing', () => {
  type Case = [Grade | undefined, Band | undefined, boolean | undefined, BandOrNone, string[]];
  it.each<Case>([
    // One grade severe: severe whatever is missing.
    ['severe', undefined, undefined, 'severe', []],
    [undefined, 'severe', undefined, 'severe', []],
    // Both grades there, the worse moderate: the crease could not change it.
    ['moderate', 'mild', undefined, 'moderate', []],
    // Mild, and the crease decides between mild and moderate.
    ['mild', 'mild', undefined, 'not known', ['crease']],
    // Straight and past straight: straight whatever its crease.
    ['straight', 'mild', undefined, 'straight', []],
    // Moderate flexibility: the bisector decides between moderate and severe, the crease decides nothing.
    [undefined, 'moderate', undefined, 'not known', ['bisector']],
    // Flexibility mild: the bisector gives straight to severe; with a mild one the crease decides too.
    [undefined, 'mild', undefined, 'not known', ['bisector', 'crease']],
    [undefined, 'mild', true, 'not known', ['bisector']],
    // Straight bisector: straight, moderate or severe by flexibility; never mild, so the crease cannot matter.
    ['straight', undefined, undefined, 'not known', ['flexibility']],
    [undefined, undefined, undefined, 'not known', ['bisector', 'flexibility', 'crease']],
  ])('bisector %s, flexibility %s, crease %s: %s', (bisector, flexibility, crease, band, missing) => {
    expect(severityBand({ bisector, flexibility, crease }, planWith().severity)).toEqual({ band, missing });
  });

  it('names only the finding that the rule uses', () => {
    const { severity } = planWith({ severity: { rule: 'flexibility alone' } });
    const none = { bisector: undefined, flexibility: undefined, crease: undefined };
    expect(severityBand(none, severity)).toEqual({ band: 'not known', missing: ['flexibility'] });
  });
});

describe('bands of a cohort by both schemes and three rules', () => {
  // Eight feet; position, flexibility, crease at baseline.
  const feet = [
    { id: 'e', seen: [[0, 4.5, PAST]] },
    { id: 'a', seen: [[0, 2.5, PAST, { crease: true }]] },
    { id: 'b', seen: [[0, 3, PAST]] },
    { id: 'd', seen: [[0, 4, PAST]] },
    { id: 'c', seen: [[0, 3, PAST, { crease: true }]] },
    { id: 'f', seen: [[0, 3.5, SHORT]] },
    { id: 'h' },
    { id: 'g', seen: [[0, 2, TO]] },
  ] as const;
  const bands = (severity: object) => cohortOf(feet, 10, { severity }).feet.map(foot => foot.band);

  it('sorts the feet by code', () => {
    expect(
      cohortOf(feet, 10)
        .feet.map(foot => foot.episode)
        .join(''),
    ).toBe('abcdefgh');
  });

  //                                   a           b       c           d           e         f           g           h
  it.each([
    [{}, ['straight', 'mild', 'moderate', 'moderate', 'severe', 'severe', 'moderate', 'not known']],
    [
      { scheme: 'web' },
      ['straight', 'mild', 'moderate', 'severe', 'severe', 'severe', 'moderate', 'not known'],
    ],
    [
      { rule: 'bisector alone' },
      ['straight', 'mild', 'mild', 'moderate', 'severe', 'moderate', 'straight', 'not known'],
    ],
    [
      { rule: 'bisector alone', scheme: 'web' },
      ['straight', 'mild', 'mild', 'severe', 'severe', 'moderate', 'straight', 'not known'],
    ],
    [
      { rule: 'flexibility alone' },
      ['mild', 'mild', 'mild', 'mild', 'mild', 'severe', 'moderate', 'not known'],
    ],
    [
      { creaseLiftsMild: false },
      ['straight', 'mild', 'mild', 'moderate', 'severe', 'severe', 'moderate', 'not known'],
    ],
  ])('%o', (severity, expected) => {
    expect(bands(severity)).toEqual(expected);
  });

  it('names what is missing', () => {
    expect(footNamed(cohortOf(feet, 10), 'h').bandMissing).toEqual(['bisector', 'flexibility', 'crease']);
  });
});
