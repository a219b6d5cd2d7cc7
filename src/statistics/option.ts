import { StatisticsError } from './errors.ts';

/** @throws StatisticsError `unknown-option` for a value that is none of those allowed */
export function requireOption(name: string, value: unknown, allowed: readonly (string | number)[]): void {
  if (allowed.some(option => option === value)) return;
  throw new StatisticsError('unknown-option', `${name} is ${String(value)}; allowed: ${allowed.join(', ')}`);
}

/**
 * The value of an option, or what is taken where it is left out.
 *
 * @throws StatisticsError `unknown-option`
 */
export function oneOf<T extends string>(
  name: string,
  value: T | undefined,
  allowed: readonly T[],
  otherwise: T,
): T {
  if (value !== undefined) requireOption(name, value, allowed);
  return value ?? otherwise;
}
