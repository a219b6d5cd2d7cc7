import { expect } from 'vitest';
import type { Analysis, Cell } from '../../src/analyses/index.ts';
import { citedWork } from '../../src/reports/citations.ts';

/** The rows of one table of a finding. */
export function rowsOfTable({ finding }: Analysis, key: string): readonly Readonly<Record<string, Cell>>[] {
  const table = finding.tables.find(candidate => candidate.key === key);
  if (table === undefined) throw new Error(`${finding.key} has no table ${key}`);
  return table.rows;
}

/**
 * What holds for every analysis: keys are used once, every number is finite, what has no estimate has a state, every count
 * of feet or step-downs can say which episodes it holds, and every work cited is listed.
 */
export function expectSound({ finding, trace }: Analysis): void {
  const keys = [
    ...finding.measures.map(measure => `measure ${measure.key}`),
    ...finding.curves.map(curve => `curve ${curve.key} ${curve.measure}`),
    ...(finding.effects ?? []).map(effect => `effect ${effect.key}`),
    ...finding.tables.map(table => `table ${table.key}`),
  ];
  expect(keys.filter((key, place) => keys.indexOf(key) !== place)).toEqual([]);
  expect(findNumbers(finding).filter(value => !Number.isFinite(value))).toEqual([]);
  for (const { key, estimate, state } of [...finding.measures, ...(finding.effects ?? [])]) {
    expect([key, estimate === undefined ? typeof state : typeof estimate]).toEqual([
      key,
      estimate === undefined ? 'string' : 'number',
    ]);
  }
  for (const text of finding.methods.flatMap(method => method.cites)) expect(citedWork(text)).not.toBe('');
  for (const measure of finding.measures) {
    if (measure.kind !== 'count' || measure.unit === 'events' || measure.unit === 'spells') continue;
    if (measure.key.startsWith('model.corrections')) continue;
    const entry = trace[measure.key];
    expect(entry, measure.key).toBeDefined();
    if (measure.unit === 'feet') expect(entry?.episodes, measure.key).toHaveLength(measure.estimate ?? -1);
  }
}

function findNumbers(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(findNumbers);
}
