import { expect } from 'vitest';

/** Relative agreement; exact where the expected value is 0. */
export function expectNear(
  actual: number | undefined,
  expected: number,
  tolerance = 1e-9,
  label = 'value',
): void {
  expectReference(actual, expected, tolerance, label);
}

/** As `expectNear`; where the reference has no number (infinite, not available), undefined is expected here. */
export function expectReference(
  actual: number | undefined,
  expected: unknown,
  tolerance = 1e-9,
  label = 'value',
): void {
  const found = disagreement(actual, expected, tolerance);
  expect(found === '' ? '' : `${label}: ${found}`).toBe('');
}

function disagreement(actual: number | undefined, expected: unknown, tolerance: number): string {
  if (typeof expected !== 'number')
    return actual === undefined ? '' : `${actual} where undefined is expected`;
  if (actual === undefined) return `undefined where ${expected} is expected`;
  const difference = Math.abs(actual - expected) / (expected === 0 ? 1 : Math.abs(expected));
  return difference <= tolerance ? '' : `${actual} against ${expected}, relative difference ${difference}`;
}

/** Both limits of an interval, each as in `expectReference`. */
export function expectLimits(
  actual: { readonly lower?: number | undefined; readonly upper?: number | undefined },
  expected: readonly unknown[],
  tolerance = 1e-9,
): void {
  expectReference(actual.lower, expected[0], tolerance, 'lower');
  expectReference(actual.upper, expected[1], tolerance, 'upper');
}

/** The code of the error that a call throws, or `nothing`. */
export function errorCode(call: () => unknown): string {
  try {
    call();
  } catch (error) {
    return error instanceof Error && 'code' in error ? String(error.code) : `no code: ${String(error)}`;
  }
  return 'nothing';
}
