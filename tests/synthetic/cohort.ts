import { simulateInfant } from '../../src/synthetic/course.ts';
import type { FootCourse, InfantCourse } from '../../src/synthetic/course-types.ts';
import type { Scenario } from '../../src/synthetic/scenario.ts';

/** So many infants with both feet, on a fixed seed; first fittings on one Monday. */
export function bilateralInfants(scenario: Scenario, infants: number, seed: number): InfantCourse[] {
  return Array.from({ length: infants }, (_, i) => simulateInfant(scenario, seed, i, 2, 19_723 - 1));
}

export interface Member {
  readonly course: InfantCourse;
  readonly foot: FootCourse;
}

export function members(infants: readonly InfantCourse[]): Member[] {
  return infants.flatMap(course => course.feet.map(foot => ({ course, foot })));
}

export const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** The things in thirds by a number, the smallest first. */
export function thirds<T>(things: readonly T[], by: (thing: T) => number): [T[], T[], T[]] {
  const sorted = [...things].sort((a, b) => by(a) - by(b));
  const n = Math.floor(sorted.length / 3);
  return [sorted.slice(0, n), sorted.slice(n, 2 * n), sorted.slice(2 * n)];
}

export function correlation(pairs: readonly (readonly [number, number])[]): number {
  const mx = mean(pairs.map(([x]) => x));
  const my = mean(pairs.map(([, y]) => y));
  const sxy = mean(pairs.map(([x, y]) => (x - mx) * (y - my)));
  const sxx = mean(pairs.map(([x]) => (x - mx) ** 2));
  const syy = mean(pairs.map(([, y]) => (y - my) ** 2));
  return sxy / Math.sqrt(sxx * syy);
}
