import { readXlsx } from 'hucre/xlsx';
import { describe, expect, it } from 'vitest';
import { dataTables } from '../../src/reports/data-tables.ts';
import { sheetNames, workbook } from '../../src/reports/workbook.ts';
import { cohortInput } from './fixtures/cohort-input.ts';

const table = (
  name: string,
  header: readonly string[],
  rows: readonly (readonly (string | number | undefined)[])[],
) => ({
  name,
  header,
  rows,
});

describe('the workbook of a report', () => {
  it('has a sheet a table, with every value at full precision', async () => {
    const tables = dataTables(cohortInput());
    const { sheets } = await readXlsx(await workbook(tables, 0));
    expect(sheets).toHaveLength(tables.length);
    for (const [i, { header, rows }] of tables.entries()) {
      const read = sheets[i]?.rows ?? [];
      expect(read[0]).toEqual([...header]);
      for (const [k, row] of rows.entries()) {
        const cells = header.map((_, column) => read[k + 1]?.[column] ?? undefined);
        expect(cells).toEqual(row.map(value => (value === '' ? undefined : value)));
      }
    }
  });

  it('keeps a number a number and a formula a text', async () => {
    const hostile = ['=1+1', '+1', '-1', '@SUM(A1)', "=cmd|' /C calc'!A0", '\t=1', '{=1}'];
    const bytes = await workbook(
      [
        table(
          't',
          ['=head', 'x'],
          hostile.map(text => [text, 0.1 + 0.2]),
        ),
      ],
      0,
    );
    const { sheets } = await readXlsx(bytes);
    expect(sheets[0]?.rows[0]?.[0]).toBe('=head');
    for (const [i, text] of hostile.entries()) {
      expect(sheets[0]?.rows[i + 1]).toEqual([text, 0.1 + 0.2]);
      const cell = sheets[0]?.cells?.get(`${i + 1},0`);
      expect(cell?.formula).toBeUndefined();
    }
  });

  it('is the same bytes twice', async () => {
    const tables = dataTables(cohortInput());
    const [one, two] = [await workbook(tables, 86_400_000), await workbook(tables, 86_400_000)];
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
  });

  it('keeps the head row in sight and the columns readable', async () => {
    const { sheets } = await readXlsx(
      await workbook([table('t', ['a', 'b'], [['a long text of a cell', 1]])], 0),
    );
    expect(sheets[0]?.freezePane?.rows).toBe(1);
    const widths = sheets[0]?.columns?.map(column => column.width ?? 0) ?? [];
    expect(widths[0]).toBeGreaterThan(20);
    expect(widths[1]).toBe(8);
  });

  it('refuses a number that is none, and replaces what XML cannot hold', async () => {
    await expect(workbook([table('t', ['a'], [[Number.NaN]])], 0)).rejects.toThrow(RangeError);
    const { sheets } = await readXlsx(await workbook([table('t', ['a'], [['x\u0000y']])], 0));
    expect(sheets[0]?.rows[1]?.[0]).toBe('x\uFFFDy');
  });
});

describe('names of sheets', () => {
  it('are at most 31 characters, differ whatever their case, and hold no forbidden character', () => {
    const long = 'relapse-after-step-down.risk-tables-of-all-phases';
    const names = sheetNames([long, long, 'a/b', 'A:b', 'a?b', '', 'x'.repeat(31)]);
    expect(new Set(names.map(name => name.toLowerCase())).size).toBe(names.length);
    for (const name of names) {
      expect(name.length).toBeLessThanOrEqual(31);
      expect(name).toMatch(/^[^[\]:*?/\\]+$/);
    }
    expect(names[0]).toMatch(/^relapse-after/);
    expect(names[0]).toMatch(/of-all-phases$/);
    expect(names[6]).toBe('x'.repeat(31));
  });
});
