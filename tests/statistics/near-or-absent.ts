import { expect } from 'vitest';
import { expectReference } from './near.ts';

/**
 * Relative agreement with a reference value, or absence where the reference has none (null, or text such as
 * Inf).
 */
export function expectNearOrAbsent(
  actual: number | undefined,
  expected: number | string | null | undefined,
  label = '',
): void {
  expectReference(actual, expected, 1e-9, label);
}

/** As `expectNearOrAbsent`, entry by entry. */
export function expectListNear(
  actual: readonly (number | undefined)[],
  expected: readonly (number | string | null | undefined)[],
  label = '',
): void {
  expect({ label, length: actual.length }).toEqual({ label, length: expected.length });
  for (const [k, value] of expected.entries()) expectNearOrAbsent(actual[k], value, `${label} ${k}`);
}

/** Absolute agreement. */
export function expectWithin(
  actual: number | undefined,
  expected: number | undefined,
  tolerance: number,
): void {
  expect(Math.abs((actual ?? Number.NaN) - (expected ?? Number.NaN))).toBeLessThanOrEqual(tolerance);
}

/** Absence of both, or agreement within the tolerance times the larger of 1 and the size. */
export function expectSameLists(
  actual: readonly (number | undefined)[],
  expected: readonly (number | undefined)[],
  tolerance = 1e-10,
): void {
  expect(actual.map(value => value === undefined)).toEqual(expected.map(value => value === undefined));
  for (const [k, value] of expected.entries()) {
    if (value !== undefined) expectWithin(actual[k], value, tolerance * Math.max(1, Math.abs(value)));
  }
}
