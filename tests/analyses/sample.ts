import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import type { Analysis, Effect, Measure } from '../../src/analyses/index.ts';
import { buildCohort, type Cohort } from '../../src/cohort/index.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { referenceValues } from '../reference/load.ts';

/** Agreement with the independent recomputation of the sample in R (tests/reference/sample.md), relative. */
export const SAMPLE_TOLERANCE = 1e-8;

/** The cohort of the committed sample export. */
export async function sampleCohort(plan: Plan): Promise<Cohort> {
  const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
  return buildCohort(await readExport(folder, { plan }), plan);
}

const REFERENCE = referenceValues('sample').values;
const DEEPER = referenceValues('sample-deeper').values;

/** A value of the recomputation by its path; fails where there is none. */
export function recomputed(...path: readonly (string | number)[]): unknown {
  return valueAt(REFERENCE, path);
}

/** As `recomputed`, of the questions that scripts/sample/deeper-questions.R adds. */
export function recomputedDeeper(...path: readonly (string | number)[]): unknown {
  return valueAt(DEEPER, path);
}

function valueAt(values: unknown, path: readonly (string | number)[]): unknown {
  let value = values;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !(part in value)) {
      throw new Error(`the recomputation has no ${path.join(' / ')}`);
    }
    value = (value as Readonly<Record<string | number, unknown>>)[part];
  }
  return value;
}

/** A column of the recomputation. */
export function recomputedColumn(...path: readonly (string | number)[]): readonly unknown[] {
  const value = recomputed(...path);
  if (!Array.isArray(value)) throw new Error(`${path.join(' / ')} is no column`);
  return value as readonly unknown[];
}

export function measureOf({ finding }: Analysis, key: string): Measure {
  const measure = finding.measures.find(candidate => candidate.key === key);
  if (measure === undefined) throw new Error(`${finding.key} has no measure ${key}`);
  return measure;
}

/** A number against the recomputation; `null` there means that there is none. */
export function expectSame(actual: number | undefined, expected: unknown, label: string): void {
  if (typeof expected !== 'number') {
    expect(actual, label).toBeUndefined();
    return;
  }
  const close =
    Math.abs((actual ?? Number.NaN) - expected) <= SAMPLE_TOLERANCE * Math.max(1, Math.abs(expected));
  expect(close ? '' : `${label}: ${String(actual)} against ${expected}`).toBe('');
}

/** Estimate and limits of a measure against three values of the recomputation. */
export function expectSameMeasure(
  measure: Measure,
  estimate: unknown,
  limits?: readonly [lower: unknown, upper: unknown],
): void {
  expectSame(measure.estimate, estimate, measure.key);
  if (limits === undefined) return;
  expectSame(measure.lower, limits[0], `${measure.key}, lower`);
  expectSame(measure.upper, limits[1], `${measure.key}, upper`);
}

export function effectOf({ finding }: Analysis, key: string): Effect {
  const effect = finding.effects?.find(candidate => candidate.key === key);
  if (effect === undefined) throw new Error(`${finding.key} has no effect ${key}`);
  return effect;
}

/** A ratio with its limits against three values of the recomputation. */
export function expectSameEffect(
  effect: Effect,
  estimate: unknown,
  limits: readonly [lower: unknown, upper: unknown],
): void {
  expectSame(effect.estimate, estimate, effect.key);
  expectSame(effect.lower, limits[0], `${effect.key}, lower`);
  expectSame(effect.upper, limits[1], `${effect.key}, upper`);
}
