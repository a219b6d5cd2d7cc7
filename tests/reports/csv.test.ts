import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { FindingTable } from '../../src/analyses/finding.ts';
import { csvText } from '../../src/reports/csv.ts';
import { findingTableColumns } from '../../src/reports/finding-columns.ts';
import { fixtureFinding } from './fixtures/load.ts';

function asCsv(table: FindingTable): string {
  const { header, rows } = findingTableColumns(table);
  return csvText(header, rows);
}

describe('CSV', () => {
  it.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1',
    '=HYPERLINK("http://x.example","a, b")',
    '\uFF1D1',
  ])('keeps a spreadsheet from running %j', text => {
    const rows = parse(csvText(['a', 'b'], [[text, 'c']]), { from_line: 2, relax_column_count: false });
    expect(rows).toEqual([[`'${text}`, 'c']]);
  });

  it('leaves numbers numbers, also below zero', () => {
    expect(csvText(['x'], [[-0.5], [1e-9], [0.1 + 0.2]])).toBe(
      'x\r\n-0.5\r\n1e-9\r\n0.30000000000000004\r\n',
    );
  });

  it('quotes what needs it and leaves absent cells empty', () => {
    expect(csvText(['a,b'], [['say "yes"'], [undefined], ['24 to 15']])).toBe(
      '"a,b"\r\n"say ""yes"""\r\n\r\n24 to 15\r\n',
    );
  });

  it('refuses a number that is none', () => {
    expect(() => csvText(['x'], [[Number.NaN]])).toThrow(RangeError);
  });

  it('holds a table of a finding at full precision, a column for each number of a cell', () => {
    const [table] = fixtureFinding('time-to-correction').tables;
    const [baseline] = fixtureFinding('baseline').tables;
    if (table === undefined || baseline === undefined) throw new Error('the fixture has lost its tables');
    const rows = parse<Record<string, string>>(asCsv(table), { columns: true });
    expect(rows.map(row => Object.keys(row))[0]).toEqual([
      'band',
      'feet',
      'infants',
      'corrected',
      'median',
      'median_lower',
      'median_upper',
      'week12',
      'week12_lower',
      'week12_upper',
    ]);
    for (const [i, row] of table.rows.entries()) {
      const cell = row.week12 as { estimate: number; lower: number; upper: number };
      expect(Number(rows[i]?.week12)).toBe(cell.estimate);
      expect(Number(rows[i]?.week12_lower)).toBe(cell.lower);
    }
    expect(asCsv(baseline).split('\r\n')[0]).toContain('mild,mild_of,mild_lower_quartile');
  });
});
