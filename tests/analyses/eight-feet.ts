import { type HandMadeFoot, PAST, SHORT } from '../cohort/hand-made.ts';

/**
 * Four mild and four severe feet, each of another infant, cut-off on day 120.
 *
 * mild:   m2 corrected on day 14; m4 withdrawn on day 28; m1 corrected on day 42; m3 on day 63
 * severe: s4 referred on day 56; s3 corrected on day 70; s1 on day 84; s2 in therapy on day 120
 */
export const EIGHT_FEET: readonly HandMadeFoot[] = [
  {
    id: 's2',
    seen: [
      [0, 4.5, SHORT],
      [84, 3.5, SHORT],
      [42, 4, SHORT],
    ],
  },
  {
    id: 'm1',
    seen: [
      [42, 2, PAST],
      [0, 3, PAST],
      [14, 3, PAST],
    ],
    phases: [[0, 24]],
    // Rows on 20 of the 41 adherence days up to correction (days 2 to 42).
    worn: [[2, Array.from({ length: 20 }, () => 20)]],
  },
  {
    id: 'm3',
    seen: [
      [0, 3, PAST],
      [14, 3, PAST],
      [42, 3, PAST],
      [63, 2.5, PAST],
    ],
  },
  {
    id: 's4',
    seen: [
      [0, 4.5, SHORT],
      [42, 4.5, SHORT],
    ],
    end: [56, 'referred for casting'],
  },
  {
    id: 'm2',
    seen: [
      [0, 3, PAST],
      [14, 2.5, PAST],
    ],
  },
  {
    id: 's1',
    seen: [
      [0, 4.5, SHORT],
      [42, 3.5, SHORT],
      [84, 2.5, PAST],
    ],
  },
  {
    id: 'm4',
    seen: [
      [0, 3, PAST],
      [14, 3, PAST],
    ],
    end: [28, 'withdrawn'],
  },
  {
    id: 's3',
    seen: [
      [0, 4.5, SHORT],
      [42, 3, PAST],
      [70, 2, PAST],
    ],
  },
];

export const CUT_OFF_DAY = 120;
