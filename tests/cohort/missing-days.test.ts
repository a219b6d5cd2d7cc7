import { describe, expect, it } from 'vitest';
import { wearUnder } from '../../src/cohort/index.ts';
import { cohortOf, days, footNamed, type HandMadeFoot, planWith } from './hand-made.ts';

const FEET: readonly HandMadeFoot[] = [
  // Days 2 to 29 count: gaps, a change of phase, and a day with two sources.
  {
    id: 'gaps',
    end: [30, 'withdrawn'],
    phases: [
      [10, 15],
      [0, 24],
    ],
    worn: [
      [12, [0, undefined, 9]],
      [3, [20, undefined, undefined, 22]],
      [3, [18], 'sensor'],
    ],
  },
  { id: 'break-in only', phases: [[0, 24]], worn: [[0, days(2, 5)]] },
  { id: 'none', phases: [[0, 24]] },
];
const RULES = ['missing', 'not worn'] as const;

describe('wear under the other rule for missing days', () => {
  const cohorts = Object.fromEntries(
    RULES.map(missingDays => [missingDays, cohortOf(FEET, 40, { adherence: { missingDays } })]),
  );

  it.each(RULES.flatMap(from => RULES.map(to => [from, to] as const)))(
    'is what the cohort built under it holds: from %s to %s',
    (from, to) => {
      const plan = planWith({ adherence: { missingDays: from } });
      for (const { id } of FEET) {
        const [own, other] = [cohorts[from], cohorts[to]];
        if (own === undefined || other === undefined) throw new Error('no cohort');
        expect(wearUnder(to, footNamed(own, id), plan), id).toEqual(footNamed(other, id).wear);
      }
    },
  );
});
