import { beforeAll, describe, expect, it } from 'vitest';
import type { Estimand, Target } from './estimands.ts';
import { type ExportAnswers, exportAnswers, studyPlan } from './estimates.ts';
import type { Recovery } from './judge.ts';
import { STUDIED, seedOf, studiedScenario } from './scenarios.ts';
import { type ScenarioRecovery, scenarioEstimands, scenarioRecovery, wantedNames } from './study.ts';

const EXPORTS = 20;
const SEED = 11;
const plan = studyPlan(20);

/** Twenty exports of the ordinary clinic with 160 feet each. */
function ordinary(): {
  readonly scenario: ReturnType<typeof studiedScenario>;
  readonly seed: (place: number) => number;
} {
  const scenario = studiedScenario('ordinary-clinic');
  return {
    scenario: { ...scenario, cohort: { ...scenario.cohort, feet: 160 } },
    seed: place => seedOf(SEED, STUDIED.indexOf('ordinary-clinic'), place),
  };
}

let estimands: readonly Estimand[] = [];
let exports: readonly ExportAnswers[] = [];
let result: ScenarioRecovery;

async function estimatesOf(places: readonly number[]): Promise<readonly ExportAnswers[]> {
  const { scenario, seed } = ordinary();
  const all: ExportAnswers[] = [];
  for (const place of places) {
    all.push(await exportAnswers(scenario, seed(place), plan, wantedNames(estimands)));
  }
  return all;
}

beforeAll(async () => {
  estimands = scenarioEstimands('ordinary-clinic', 8000, SEED);
  exports = await estimatesOf(Array.from({ length: EXPORTS }, (_, place) => place));
  result = scenarioRecovery('ordinary-clinic', estimands, exports);
}, 120_000);

function recovery(method: string, what: string, target: Target): Recovery & { readonly bias: number } {
  const found = result.recoveries.find(
    r => r.method === method && r.what === what && r.target === target && r.bias !== undefined,
  );
  if (found?.bias === undefined) throw new RangeError(`no recovery of ${what} by ${method}`);
  return { ...found, bias: found.bias };
}

/** Four Monte-Carlo errors of the mean, and what the large cohort of 8,000 infants leaves open of the truth itself. */
function slack({ biasError = 0 }: Recovery, ofTruth: number): number {
  return 4 * biasError + ofTruth;
}

describe('estimates of seeded exports against the truth', () => {
  it('come from every export without an analysis giving up', () => {
    expect(result.exports).toBe(EXPORTS);
    expect(result.failed).toEqual({});
  });

  it.each(
    ['mild', 'moderate', 'severe'].flatMap(band =>
      [6, 8, 12, 16].flatMap(week => [
        ['Aalen–Johansen, visit-dated', `${band}, week ${week}`],
        ['Kaplan–Meier, visit-dated', `${band}, week ${week}`],
      ]),
    ),
  )('%s finds the share seen corrected, %s', (method, what) => {
    const found = recovery(method, what, 'seen');
    expect(found.estimated).toBe(EXPORTS);
    expect(Math.abs(found.bias)).toBeLessThan(slack(found, 0.02));
  });

  it('have the interval-censored share, but not the visit-dated one, near the share truly straight', () => {
    for (const what of ['mild, week 6', 'moderate, week 6', 'moderate, week 8']) {
      const late = recovery('Kaplan–Meier, visit-dated', what, 'true');
      expect(late.bias).toBeLessThan(-0.1);
      const range = recovery('Turnbull, middle', what, 'true');
      expect(Math.abs(range.bias)).toBeLessThan(slack(range, 0.02));
    }
  });

  it('have the visit-dated median late by one to three weeks', () => {
    for (const band of ['mild', 'moderate', 'severe']) {
      const { bias } = recovery('Kaplan–Meier, visit-dated', band, 'true');
      expect(bias).toBeGreaterThan(0.8);
      expect(bias).toBeLessThan(3);
    }
  });

  it.each(['24 to 15', '15 to 12', '12 to none'])('find the risk of relapse after %s', step => {
    for (const week of [6, 12]) {
      const found = recovery('Aalen–Johansen', `${step}, week ${week}`, 'seen');
      expect(Math.abs(found.bias)).toBeLessThan(slack(found, 0.006));
    }
  });

  it('find where feet are and how often the skin is troubled', () => {
    for (const state of ['24 hours', '15 hours', '12 hours', 'finished', 'left']) {
      const found = recovery('Aalen–Johansen', `${state}, week 12`, 'true');
      expect(Math.abs(found.bias)).toBeLessThan(slack(found, 0.01));
    }
    const skin = recovery('Rate', 'any skin event', 'true');
    expect(Math.abs(skin.bias)).toBeLessThan(slack(skin, 0.3));
  });

  it('find who discontinues, and how often parents were taught', () => {
    for (const week of [6, 12]) {
      const found = recovery(
        'Kaplan–Meier, diaries and sensors',
        `without discontinuation by week ${week}`,
        'true',
      );
      expect(Math.abs(found.bias)).toBeLessThan(slack(found, 0.01));
    }
    for (const what of ['teach-back', 'photograph']) {
      const found = recovery('Share of a quarter, Wilson', `${what}, last full quarter`, 'true');
      expect(Math.abs(found.bias)).toBeLessThan(slack(found, 0));
    }
  });

  it('have an audit of every export, which sees the teach-back change', () => {
    const charts = result.audit.filter(({ kind, reading }) => kind === 'chart' && reading === 'signal');
    expect(charts.find(({ measure }) => measure === 'teach-back')?.exports).toBe(EXPORTS);
    const share = (measure: string) => charts.find(found => found.measure === measure)?.share ?? 0;
    expect(share('teach-back')).toBeGreaterThan(share('checkup-at-15-hours'));
  });

  it('repeat by seed', async () => {
    expect(await estimatesOf([3])).toEqual([exports[3]]);
    expect(exports[3]).not.toEqual(exports[4]);
  });
});
