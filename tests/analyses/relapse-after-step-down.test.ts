import { describe, expect, it } from 'vitest';
import { relapseAfterStepDown } from '../../src/analyses/index.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith, TO } from '../cohort/hand-made.ts';
import { expectNear } from '../statistics/near.ts';
import { expectSound, rowsOfTable } from './findings.ts';
import { measureOf } from './sample.ts';

const CUT_OFF = 130;

// Six feet of five infants; all cuts from 24 to 15 hours on day 42.
const FEET: readonly HandMadeFoot[] = [
  // In therapy at the cut-off, at 15 hours: 88 days at risk, censored.
  {
    id: 'e',
    seen: [
      [0, 3.5, TO],
      [42, 3, PAST],
    ],
    phases: [
      [0, 24],
      [42, 15],
    ],
  },
  // Relapse by the bisector (2.5 to 3) on day 63, the very day of the next cut; then to none on day 84, seen until day 126.
  {
    id: 'a',
    infant: 'one',
    end: [84, 'finished'],
    seen: [
      [63, 3, PAST],
      [0, 3, PAST],
      [42, 2.5, PAST],
      [84, 3, PAST],
      [126, 3, PAST, { kind: 'follow-up' }],
    ],
    phases: [
      [63, 12],
      [0, 24],
      [42, 15],
    ],
  },
  // The other foot of the same infant: back to 24 hours on day 56, withdrawn on day 70.
  {
    id: 'b',
    infant: 'one',
    side: 'right',
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
  },
  // Cut on days 42 and 63, finished on day 84 and never seen again.
  {
    id: 'c',
    end: [84, 'finished'],
    seen: [
      [0, 3.5, TO],
      [42, 3, PAST],
      [63, 2.5, PAST],
    ],
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
    ],
  },
  // Withdrawn ten days after the cut.
  {
    id: 'd',
    end: [52, 'withdrawn'],
    seen: [
      [0, 3, PAST],
      [42, 2.5, PAST],
    ],
    phases: [
      [0, 24],
      [42, 15],
    ],
  },
  // Still at 24 hours: no step-down.
  { id: 'f', seen: [[0, 3, PAST]], phases: [[0, 24]] },
];

const plan = planWith();
const analysis = relapseAfterStepDown(cohortOf(FEET, CUT_OFF), plan);
const at = (key: string) => measureOf(analysis, key);

/** Log-log limits of a probability, from its definition. */
function logLog(p: number, error: number): readonly [number, number] {
  const shift = (1.959963984540054 * error) / (p * Math.abs(Math.log(p)));
  return [Math.exp(Math.log(p) * Math.exp(shift)), Math.exp(Math.log(p) * Math.exp(-shift))];
}

describe('relapse after a step-down, worked out on paper', () => {
  it('counts step-downs, follow-up, ends and signs', () => {
    const counts = (step: string) =>
      Object.fromEntries(
        [
          'stepDowns',
          'followed',
          'notSeenAfter',
          'relapses',
          'ended as next step-down',
          'ended as left therapy',
          'ended as censored',
          'sign bisector worse',
          'sign longer hours',
          'sign both',
        ].map(key => [key, at(`${key}.${step}.all`).estimate]),
      );
    // A relapses on day 63, before the cut of that day takes effect; b by its return to 24 hours.
    expect(counts('24 to 15')).toEqual({
      stepDowns: 5,
      followed: 5,
      notSeenAfter: 0,
      relapses: 2,
      'ended as next step-down': 1,
      'ended as left therapy': 1,
      'ended as censored': 1,
      'sign bisector worse': 1,
      'sign longer hours': 1,
      'sign both': 0,
    });
    // A and c, both cut again or finished after 21 days.
    expect(counts('15 to 12')).toMatchObject({
      stepDowns: 2,
      followed: 2,
      relapses: 0,
      'ended as next step-down': 2,
    });
    // C was never seen after its end.
    expect(counts('12 to none')).toMatchObject({
      stepDowns: 2,
      followed: 1,
      notSeenAfter: 1,
      'ended as censored': 1,
    });
    expect(at('followed.24 to 15.all').infants).toBe(4);
    expect(analysis.finding.population).toEqual({
      feet: 5,
      infants: 4,
      // C, whose last step-down was not followed, was followed after those before it.
      leftOut: [{ reason: 'no step-down', feet: 1, infants: 1 }],
    });
  });

  it('gives the risk with competing ends and limits clustered by infant', () => {
    // At risk 5. Day 10: d leaves. Day 14: b relapses. Day 21: a relapses, c is cut again. Nobody is censored before day
    // 21, so the risk is 2 of 5; its error adds up the influences (1 - 0.4)/5 of a and b, who share an infant:
    // ((0.12 + 0.12)^2 + 3 x 0.08^2)^0.5.
    const [lower, upper] = logLog(0.4, Math.sqrt(0.24 ** 2 + 3 * 0.08 ** 2));
    for (const week of [3, 6, 12]) {
      const risk = at(`risk.week${week}.24 to 15.all`);
      expectNear(risk.estimate, 0.4);
      expectNear(risk.lower, lower);
      expectNear(risk.upper, upper);
    }
  });

  it('gives a risk of 0 the exact limit of none among the infants of whom it is known', () => {
    // Two infants, both cut again on day 21: the risk is known for good. (1 - p)^2 = 0.025.
    for (const week of [3, 6, 12]) {
      const risk = at(`risk.week${week}.15 to 12.all`);
      expect(risk.estimate).toBe(0);
      expect(risk.lower).toBe(0);
      expectNear(risk.upper, 1 - Math.sqrt(0.025));
    }
    // A alone, seen for six weeks after the end: nothing is known of week 12.
    expectNear(at('risk.week6.12 to none.all').upper, 0.975);
    expect(at('risk.week12.12 to none.all')).toMatchObject({ state: 'not followed so long' });
    expect(at('risk.week12.12 to none.all').estimate).toBeUndefined();
  });

  it('gives the exact rate', () => {
    // 21 + 14 + 21 + 10 + 88 days are 22 weeks; two events have Poisson limits 0.2422 and 7.2247.
    expectNear(at('footWeeks.24 to 15.all').estimate, 22);
    expectNear(at('rate.24 to 15.all').estimate, 200 / 22);
    expectNear(at('rate.24 to 15.all').lower, 0.2422092785 / 0.22, 1e-8);
    expectNear(at('rate.24 to 15.all').upper, 7.2246876672 / 0.22, 1e-8);
  });

  it('compares rates twice over, and names what cannot be compared', () => {
    const effect = (how: string) =>
      analysis.finding.effects?.find(({ key }) => key === `rateRatio.steps.${how}.15 to 12`);
    // No relapse in 6 weeks against 2 in 22: given 2 events the chance of both in the 22 weeks is (22/28)^2; the upper
    // limit solves (22/(22 + 6 r))^2 = 0.025.
    expect(effect('exact')).toMatchObject({ estimate: 0, lower: 0, reference: '24 to 15', events: 2 });
    expectNear(effect('exact')?.upper, ((1 / Math.sqrt(0.025) - 1) * 22) / 6);
    expect(effect('clustered')).toMatchObject({ state: 'no events' });
    expect(rowsOfTable(analysis, 'rate-ratios')[0]).toMatchObject({ clustered: 'no events', events: 2 });
  });

  it('adds up repeated relapses since first fitting', () => {
    // Day 56: b, day 63: a, each among the five feet observed so long (d ended on day 52): 1/5 + 1/5. Infant one adds
    // (0.8 - 0.2)/5 for each of its feet, c, e and f -0.4/5 each.
    const error = Math.sqrt(0.24 ** 2 + 3 * 0.08 ** 2);
    expect(at('meanCount.week6.all').estimate).toBe(0);
    for (const week of [12, 16]) {
      expectNear(at(`meanCount.week${week}.all`).estimate, 0.4);
      expectNear(at(`meanCount.week${week}.all`).lower, 0.4 * Math.exp((-1.959963984540054 * error) / 0.4));
    }
    expect(at('meanCount.week24.all')).toMatchObject({ state: 'not followed so long' });
  });

  it('says why a hazard ratio is not given', () => {
    const states = Object.fromEntries(
      (analysis.finding.effects ?? [])
        .filter(({ key }) => key.startsWith('cox.crude'))
        .map(({ key, state }) => [key, state]),
    );
    // Every foot was cut after six weeks, or three weeks in the strata without a relapse.
    expect(states['cox.crude.adherence']).toBe('no data');
    expect(states['cox.crude.severe']).toBe('does not vary');
  });

  it('answers in two plain sentences', () => {
    expect(analysis.finding.statement).toBe(
      'Of the step-downs followed, 2/8 (25\u202f%) ended in relapse, 5.88 (0.71 to 21.2) per 100 foot-weeks. Risk of relapse by week 12 after a step-down: 40\u202f% (2 to 81\u202f%) after 24 to 15 hours; 0\u202f% (0 to 84\u202f%) after 15 to 12 hours.',
    );
  });

  it('can say which feet stand behind a count', () => {
    expect(analysis.trace['relapses.24 to 15.all']).toEqual({
      rule: 'step-down 24 to 15; relapse',
      episodes: ['a', 'b'],
      times: [1, 1],
    });
    expect(analysis.trace['notSeenAfter.12 to none.all']?.episodes).toEqual(['c']);
    expectSound(analysis);
  });

  it('takes feet as independent where the plan says so', () => {
    const independent = relapseAfterStepDown(
      cohortOf(FEET, CUT_OFF),
      planWith({ clustering: { byInfant: false } }),
    );
    const [lower] = logLog(0.4, Math.sqrt((0.4 * 0.6) / 5));
    expectNear(measureOf(independent, 'risk.week3.24 to 15.all').lower, lower);
    expect(independent.finding.effects?.some(({ key }) => key.includes('.clustered.'))).toBe(false);
    expectSound(independent);
  });
});
