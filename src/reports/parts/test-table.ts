import type { Finding } from '../../analyses/finding.ts';
import { formatCount, formatDecimal, formatPValue, NOTHING } from '../../wording/format.ts';
import type { DocumentTable } from '../document.ts';

/** The tests of a finding; a p-value never stands without its statistic. */
export function testTable(finding: Finding): DocumentTable {
  return {
    kind: 'table',
    key: `${finding.key}.tests`,
    caption: 'Tests',
    columns: [
      { label: 'Question', align: 'left' },
      { label: 'Method', align: 'left' },
      { label: 'Statistic', align: 'right' },
      { label: 'Degrees of freedom', align: 'right' },
      { label: 'P', align: 'right' },
    ],
    rows: finding.tests.map(test => [
      { text: test.label },
      { text: test.method },
      { text: test.statistic === undefined ? (test.state ?? NOTHING) : formatDecimal(test.statistic, 2) },
      { text: test.degreesOfFreedom === undefined ? NOTHING : formatCount(test.degreesOfFreedom) },
      { text: test.pValue === undefined ? (test.state ?? NOTHING) : formatPValue(test.pValue) },
    ]),
    notes: [],
  };
}
