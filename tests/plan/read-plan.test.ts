import { createHash } from 'node:crypto';
import { assert, property, uint8Array } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planDocument } from '../../src/plan/plan-document.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { PlanError, planHash, readPlan } from '../../src/plan/read-plan.ts';
import { sha256 } from '../../src/plan/sha256.ts';

function problemsOf(text: string): string[] {
  try {
    readPlan(text);
  } catch (error) {
    if (error instanceof PlanError) return error.problems.map(problem => problem.message);
    throw error;
  }
  return [];
}

describe('reading a plan', () => {
  it('gives every field left out its default', () => {
    expect(readPlan('')).toEqual(defaultPlan());
    expect(readPlan('# only a comment\n')).toEqual(defaultPlan());
    expect(readPlan('correction:\n  bisectorAtMost: 3\n')).toEqual({
      ...defaultPlan(),
      correction: { ...defaultPlan().correction, bisectorAtMost: 3 },
    });
  });

  it.each([
    [
      'correction:\n  bisectorAtMost: 7\n',
      'plan.yaml: correction.bisectorAtMost is 7, which is not allowed; allowed: a number from 2 to 5',
    ],
    [
      'severity:\n  scheme: heel\n',
      'plan.yaml: severity.scheme is "heel", which is not allowed; allowed: toe, web',
    ],
    [
      'phases:\n  hours: [24, 30]\n',
      'plan.yaml: phases.hours[1] is 30, which is not allowed; allowed: a number over 0 to 24',
    ],
    [
      'phases:\n  hours: []\n',
      'plan.yaml: phases.hours is [], which is not allowed; allowed: a list of at least one, each a number over 0 to 24',
    ],
    [
      'lapse:\n  windowDays: 2.5\n',
      'plan.yaml: lapse.windowDays is 2.5, which is not allowed; allowed: a whole number over 0',
    ],
    [
      'relapse:\n  longerHoursCount: "yes"\n',
      'plan.yaml: relapse.longerHoursCount is "yes", which is not allowed; allowed: true, false',
    ],
    ['level: 1\n', 'plan.yaml: level is 1, which is not allowed; allowed: a number over 0.5 under 1'],
    [
      'lapse:\n  window: 7\n',
      'plan.yaml: lapse.window is not a field of the plan; allowed: the fields windowDays, below, minimumDays',
    ],
    [
      'adherence:\n  sourceOrder: [sensor, guess]\n',
      'plan.yaml: adherence.sourceOrder[1] is "guess", which is not allowed; allowed: sensor, diary, recall',
    ],
    [
      'lapse: {',
      'plan.yaml, line 1: is not YAML (Flow map in block collection must be sufficiently indented and end with a })',
    ],
    ['a: &x 1\nb: *x\n', 'plan.yaml: uses aliases; allowed: YAML without aliases'],
  ])('names path, value and what is allowed in %j', (text, message) => {
    expect(problemsOf(text)).toEqual([message]);
  });

  it('names everything that is wrong at once', () => {
    expect(problemsOf('- 1\n')).toEqual([
      'plan.yaml: the plan is not allowed; allowed: the fields severity, baseline, feet, clustering, phases, correction, relapse, adherence, lapse, discontinuation, duration, imputation, occupancy, skin, counselling, sensitivity, audit, checks, disclosure, figures, level, seed',
    ]);
    expect(problemsOf('level: 2\nseed: -1\nother: 1\n')).toHaveLength(3);
  });
});

describe('a plan written out', () => {
  it('is read back to the same plan', () => {
    const plan = { ...defaultPlan(), level: 0.9, phases: { hours: [22, 12] } };
    expect(planDocument(plan)).toContain('phases:\n  hours:\n    - 22\n    - 12\n');
    expect(readPlan(planDocument(plan))).toEqual(plan);
  });
});

describe('the hash of a plan', () => {
  it('does not depend on the order of the fields, and tells plans apart', () => {
    const plan = defaultPlan();
    const turned = Object.fromEntries(Object.entries(plan).reverse()) as unknown as typeof plan;
    expect(planHash(turned)).toBe(planHash(plan));
    expect(planHash({ ...plan, level: 0.9 })).not.toBe(planHash(plan));
    expect(planHash(plan)).toMatch(/^[0-9a-f]{64}$/);
  });
});

describe('SHA-256', () => {
  it('gives the digests printed in FIPS 180-4 examples', () => {
    expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(sha256('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe(
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    );
  });

  it('agrees with the one of Node, whatever the bytes', () => {
    assert(
      property(uint8Array({ maxLength: 300 }), bytes => {
        expect(sha256(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
      }),
      { seed: 1, numRuns: 300 },
    );
  });
});
