// Every number of the findings of the sample export, as an independent program in R finds it from the same CSV files
// (tests/reference/sample.md, scripts/sample/findings.R), by the keys of the findings.
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import {
  type Analysis,
  analyseAudit,
  analyseDuration,
  analyseExport,
  type Finding,
} from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/index.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { referenceValues } from '../reference/load.ts';

export type Value = number | string | null;
type Row = readonly Value[];

/** What the recomputation holds of one finding. */
export interface Recomputed {
  readonly population: { readonly all: Population };
  /** Estimate, lower, upper, n, infants, events; null: there is none (the first three), or it is not held here. */
  readonly measures: Readonly<Record<string, Row>>;
  /** Estimate, lower, upper, n, events. */
  readonly effects?: Readonly<Record<string, Row>>;
  /** Statistic, degrees of freedom, p-value. */
  readonly tests?: Readonly<Record<string, Row>>;
  readonly curves?: Readonly<Record<string, Steps>>;
  readonly riskTables?: Readonly<Record<string, Readonly<Record<string, readonly number[]>>>>;
  /** Quantiles between which the lower and the upper limit of a resampled interval must lie. */
  readonly resampled?: Readonly<Record<string, readonly [number, number, number, number]>>;
  readonly [part: string]: unknown;
}

interface Population {
  readonly feet: number;
  readonly infants: number;
  readonly leftOut: Readonly<Record<string, readonly [number, number]>>;
}

/** Each row holds from its time on. */
export interface Steps {
  readonly time: readonly number[];
  readonly estimate: Row;
  readonly lower: Row;
  readonly upper: Row;
}

const REFERENCE = referenceValues('sample-findings').values as Readonly<Record<string, Recomputed>>;

export function recomputedFinding(key: string): Recomputed {
  const found = REFERENCE[key];
  if (found === undefined) throw new Error(`the recomputation has no finding ${key}`);
  return found;
}

/** The findings of all three reports on the sample. */
export async function sampleAnalyses(plan: Plan): Promise<readonly Analysis[]> {
  const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
  const records = await readExport(folder, { plan });
  const cohort = buildCohort(records, plan);
  return [
    ...analyseExport(records, plan, cohort),
    ...analyseDuration(cohort, plan),
    ...analyseAudit(cohort, plan),
  ];
}

const TOLERANCE = 1e-8;

/** Within 1e-8, relative for numbers above 1; null stands for none. */
export function isSame(actual: unknown, expected: Value | undefined): boolean {
  if (expected === null || expected === undefined) return actual === undefined;
  if (typeof actual !== 'number' || typeof expected !== 'number') return actual === expected;
  return Math.abs(actual - expected) <= TOLERANCE * Math.max(1, Math.abs(expected));
}

/** The fields of a result that are not what the recomputation found, in words. */
export function differences(
  label: string,
  actual: Readonly<Record<string, unknown>>,
  fields: readonly string[],
  expected: Row,
): readonly string[] {
  return fields.flatMap((field, place) =>
    isSame(actual[field], expected[place])
      ? []
      : [`${label}, ${field}: ${String(actual[field])} against ${String(expected[place])}`],
  );
}

/** Every number in a value, however deep. */
export function numbersIn(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}

export function findingNamed(analyses: readonly Analysis[], key: string): Finding {
  const found = analyses.find(({ finding }) => finding.key === key);
  if (found === undefined) throw new Error(`no finding ${key}`);
  return found.finding;
}

export type Tree = Readonly<Record<string, unknown>>;

/** What the recomputation holds at a path of a finding. */
export function held(key: string, ...path: readonly string[]): unknown {
  return path.reduce<unknown>((value, step) => (value as Tree | undefined)?.[step], recomputedFinding(key));
}

export const listOf = (value: unknown): readonly Value[] =>
  Array.isArray(value) ? (value as readonly Value[]) : [value as Value];
export const listAt = (key: string, ...path: readonly string[]): readonly Value[] =>
  held(key, ...path) as readonly Value[];
export const numbersAt = (key: string, ...path: readonly string[]): readonly number[] =>
  held(key, ...path) as readonly number[];

/** All of the values, place by place; a difference is named. */
export function expectAll(own: readonly (number | undefined)[], values: readonly Value[], at: string): void {
  const wrong = values.flatMap((value, place) =>
    isSame(own[place], value) ? [] : [`${place}: ${String(own[place])} against ${String(value)}`],
  );
  expect(wrong, at).toEqual([]);
  expect(own, at).toHaveLength(values.length);
}
