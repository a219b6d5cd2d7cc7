import type {
  Analysis,
  Effect,
  Finding,
  FindingTable,
  Measure,
  TestResult,
} from '../../src/analyses/index.ts';

export function measureOf(finding: Finding, key: string): Measure {
  return found(finding.measures, key);
}

export function testOf(finding: Finding, key: string): TestResult {
  return found(finding.tests, key);
}

export function effectOf(finding: Finding, key: string): Effect {
  return found(finding.effects ?? [], key);
}

export function tableOf(finding: Finding, key: string): FindingTable {
  return found(finding.tables, key);
}

/** The row of the sensitivity table whose number begins with these words. */
export function rowNamed(finding: Finding, words: string): FindingTable['rows'][number] {
  const row = tableOf(finding, 'sensitivity').rows.find(
    ({ number }) => typeof number === 'string' && number.startsWith(words),
  );
  if (row === undefined) throw new Error(`there is no row ${words}`);
  return row;
}

export function findingOf(analyses: readonly Analysis[], key: string): Finding {
  return found(
    analyses.map(({ finding }) => finding),
    key,
  );
}

function found<T extends { readonly key: string }>(among: readonly T[], key: string): T {
  const one = among.find(candidate => candidate.key === key);
  if (one === undefined)
    throw new Error(`there is no ${key} among ${among.map(item => item.key).join(', ')}`);
  return one;
}

/** Every value in a document that no result may hold: NaN, infinities and null. */
export function unprintable(value: unknown, path = ''): readonly string[] {
  if (value === null) return [path];
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path];
  if (typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, part]) => unprintable(part, `${path}/${key}`));
}
