import { expect } from 'vitest';

/**
 * Asserts agreement to a relative tolerance (absolute below `floor`), number by number through nested arrays.
 * The default is the house's: 1e-9 against reference values.
 */
export function expectClose(actual: unknown, expected: unknown, tolerance = 1e-9, floor = 1e-12): void {
  const difference = worst(actual, expected, floor);
  if (!(difference <= tolerance)) {
    expect.fail(
      `relative difference ${difference} above ${tolerance}: ${show(actual)} against ${show(expected)}`,
    );
  }
  expect(difference).toBeLessThanOrEqual(tolerance);
}

function worst(actual: unknown, expected: unknown, floor: number): number {
  if (Array.isArray(expected)) {
    if (!isList(actual) || actual.length !== expected.length) return Number.POSITIVE_INFINITY;
    let most = 0;
    for (const [i, value] of expected.entries()) {
      const difference = worst(actual[i], value, floor);
      if (!(difference <= most)) most = difference;
    }
    return most;
  }
  if (typeof actual !== 'number' || typeof expected !== 'number') return Number.POSITIVE_INFINITY;
  return Math.abs(actual - expected) / Math.max(Math.abs(expected), floor);
}

function isList(value: unknown): value is ArrayLike<unknown> {
  return typeof value === 'object' && value !== null && 'length' in value;
}

function show(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) =>
    item instanceof Float64Array ? Array.from(item) : item,
  );
}

/** Freezes an object and everything in it, so that a function that writes to its input fails. */
export function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    for (const part of Object.values(value)) frozen(part);
    Object.freeze(value);
  }
  return value;
}

/** 1 where a row's text field equals a level, else 0: an indicator column. */
export function indicator(
  rows: readonly Readonly<Record<string, string>>[],
  field: string,
  level: string,
): number[] {
  return rows.map(row => (row[field] === level ? 1 : 0));
}
