import { expect } from 'vitest';

/** Relative agreement; exact where the expected value is 0. */
export function expectNear(actual: number | undefined, expected: number, tolerance = 1e-9, label = ''): void {
  const scale = Math.abs(expected);
  const difference = actual === undefined ? Number.POSITIVE_INFINITY : Math.abs(actual - expected);
  const close = difference <= tolerance * (scale === 0 ? 1 : scale);
  expect(
    close,
    `${label} ${actual} against ${expected}, relative difference ${difference / (scale || 1)}`,
  ).toBe(true);
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
