import type { DocumentCell, DocumentTable } from '../../src/reports/document.ts';
import { formatCount, formatDecimal, NOTHING } from '../../src/wording/format.ts';
import type { ScenarioRecovery } from './study.ts';

/** Tests of one question in the order of the table, the first by infant. */
export interface TestGroup {
  readonly key: string;
  readonly caption: string;
  readonly labels: Readonly<Record<string, string>>;
}

const LABELS = {
  trend: 'Trend, variance by infant',
  'log-rank-trend': 'Log-rank trend, feet as independent',
  'log-rank': 'Log-rank across bands, feet as independent',
};

export const CORRECTION_TESTS: TestGroup = {
  key: 'tests',
  caption: 'How often the tests of severity on the time to correction reject at the 5 % level',
  labels: LABELS,
};

export const DURATION_TESTS: TestGroup = {
  key: 'duration-tests',
  caption: 'How often the tests of severity on the total duration reject at the 5 % level',
  labels: Object.fromEntries(Object.entries(LABELS).map(([key, label]) => [`duration.${key}`, label])),
};

export function testTable(
  scenarios: readonly ScenarioRecovery[],
  { key: table, caption, labels }: TestGroup,
): DocumentTable {
  const keys = Object.keys(labels);
  const cell = (text: string): DocumentCell => ({ text });
  const right = (label: string, unit?: string) => ({
    label,
    align: 'right' as const,
    ...(unit === undefined ? {} : { unit }),
  });
  return {
    kind: 'table',
    key: table,
    caption,
    columns: [
      { label: 'Scenario', align: 'left' },
      right('Feet'),
      ...keys.map(key => right(labels[key] ?? key, '%')),
      right('Exports without the trend test'),
    ],
    rows: scenarios.map(({ scenario, feet, tests }) => {
      const trend = tests.find(test => test.key === keys[0]);
      return [
        cell(scenario),
        cell(formatCount(feet)),
        ...keys.map(key => {
          const found = tests.find(test => test.key === key);
          return cell(
            found?.rejected === undefined
              ? NOTHING
              : `${formatDecimal(100 * found.rejected, 1)} ± ${formatDecimal(100 * (found.rejectedError ?? 0), 1)}`,
          );
        }),
        cell(formatCount((trend?.exports ?? 0) - (trend?.tested ?? 0))),
      ];
    }),
    notes: [
      'Where severity has no effect this is the size of the test, which should be 5 %; elsewhere its power.',
    ],
  };
}
