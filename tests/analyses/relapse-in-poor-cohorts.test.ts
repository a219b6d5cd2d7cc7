import { describe, expect, it } from 'vitest';
import { relapseAfterStepDown } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith } from '../cohort/hand-made.ts';
import { expectNear } from '../statistics/near.ts';
import { expectSound } from './findings.ts';
import { measureOf } from './sample.ts';

const CUT_OFF = 130;
const plan = planWith();

const STILL_IN_FULL_TIME: HandMadeFoot = { id: 'f', seen: [[0, 3, PAST]], phases: [[0, 24]] };
const BACK_AFTER_TWO_WEEKS: HandMadeFoot = {
  id: 'b',
  end: [70, 'withdrawn'],
  seen: [
    [0, 3, PAST],
    [42, 2.5, PAST],
    [56, 2.5, PAST],
  ],
  phases: [
    [0, 24],
    [42, 15],
    [56, 24],
  ],
};

describe('relapse after a step-down in poor cohorts', () => {
  it('says so without a step-down', () => {
    const none = relapseAfterStepDown(cohortOf([STILL_IN_FULL_TIME], CUT_OFF), plan);
    expect(none.finding.statement).toBe('No step-down was followed, so the risk of relapse cannot be given.');
    expect(measureOf(none, 'rate.24 to 15.all').state).toBe('no data');
    expectSound(none);
  });

  it('gives a single foot no clustered limits', () => {
    const one = relapseAfterStepDown(cohortOf([BACK_AFTER_TWO_WEEKS], CUT_OFF), plan);
    // The one foot relapsed: all of one infant.
    expectNear(measureOf(one, 'risk.week3.24 to 15.all').lower, 0.025);
    expectSound(one);
  });

  it('stands an empty cohort', () => {
    expectSound(relapseAfterStepDown(cohortOf([], CUT_OFF), plan));
  });

  it('counts step-downs with no position to compare with', () => {
    const blind = relapseAfterStepDown(
      cohortOf(
        [
          {
            id: 'x',
            end: [60, 'finished'],
            phases: [
              [0, 24],
              [30, 15],
            ],
            seen: [[70, 3, PAST]],
          },
        ],
        CUT_OFF,
      ),
      plan,
    );
    expect(measureOf(blind, 'noReference.any step-down.all').estimate).toBe(2);
    // The step from 24 to 15 was followed, by return to longer hours alone; so the foot is not left out.
    expect(measureOf(blind, 'followed.any step-down.all').estimate).toBe(1);
    expect(blind.finding.population).toEqual({ feet: 1, infants: 1, leftOut: [] });
    const atOnce = relapseAfterStepDown(
      cohortOf(
        [
          { id: 'y', end: [60, 'finished'], phases: [[0, 24]], seen: [[70, 3, PAST]] },
          { id: 'z', phases: [[0, 24]], seen: [[0, 3, PAST]] },
        ],
        CUT_OFF,
      ),
      plan,
    );
    expect(atOnce.finding.population).toMatchObject({
      feet: 0,
      leftOut: [
        { reason: 'no bisector position to compare with after the end of therapy', feet: 1 },
        { reason: 'no step-down', feet: 1 },
      ],
    });
    expectSound(blind);
  });

  it('fits with a penalty where the events are separated', () => {
    // At each relapse the foot had been at 24 hours for longest of all at risk.
    const feet = Array.from({ length: 8 }, (_, place): HandMadeFoot => {
      const cut = 42 + 7 * place;
      const relapses = place >= 4;
      return {
        id: `s${place}`,
        seen: [
          [0, 3, PAST],
          [cut, 2.5, PAST],
          [cut + 22 - place, relapses ? 3 : 2.5, PAST],
        ],
        phases: [
          [0, 24],
          [cut, 15],
        ],
      };
    });
    const separated = relapseAfterStepDown(cohortOf(feet, 200), plan);
    const weeks = separated.finding.effects?.find(({ key }) => key === 'cox.crude.weeksBefore');
    expect(weeks?.label).toBe('Weeks in the phase before (penalised)');
    expect(weeks?.estimate).toBeGreaterThan(1);
    expect(separated.finding.cautions.join(' ')).toContain('fitted with a penalty');
    expectSound(separated);
  });
});
