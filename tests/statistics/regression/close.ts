import { expect } from 'vitest';

/** Asserts agreement to a relative tolerance (absolute below 1 in size), naming what disagrees. */
export function expectClose(
  actual: number | undefined,
  expected: number,
  tolerance = 1e-9,
  what = 'value',
): void {
  if (typeof actual !== 'number' || Number.isNaN(actual)) {
    expect.fail(`${what}: ${String(actual)} where ${expected} is expected`);
  }
  const difference = Math.abs(actual - expected) / Math.max(Math.abs(expected), 1e-6);
  if (!(difference <= tolerance)) {
    expect.fail(`${what}: ${actual} where ${expected} is expected (relative difference ${difference})`);
  }
  expect(difference).toBeLessThanOrEqual(tolerance);
}

export function expectAllClose(
  actual: ArrayLike<number | undefined>,
  expected: readonly number[],
  tolerance = 1e-9,
  what = 'value',
): void {
  expect(actual.length, `${what}: length`).toBe(expected.length);
  for (const [i, value] of expected.entries()) expectClose(actual[i], value, tolerance, `${what}[${i}]`);
}

export function expectRowsClose(
  actual: readonly (readonly number[])[] | undefined,
  expected: readonly (readonly number[])[],
  tolerance = 1e-9,
  what = 'rows',
): void {
  expect(actual?.length, `${what}: length`).toBe(expected.length);
  for (const [i, row] of expected.entries()) {
    expectAllClose(actual?.[i] ?? [], row, tolerance, `${what}[${i}]`);
  }
}
