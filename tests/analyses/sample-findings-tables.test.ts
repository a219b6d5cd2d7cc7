// The tables of the findings of the sample, against R.
import { beforeAll, describe, expect, it } from 'vitest';
import type { Analysis, Cell, Finding } from '../../src/analyses/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import {
  expectAll,
  findingNamed,
  held,
  listAt,
  listOf,
  numbersIn,
  recomputedFinding,
  sampleAnalyses,
  type Tree,
  type Value,
} from './sample-findings.ts';

let analyses: readonly Analysis[] = [];

beforeAll(async () => {
  analyses = await sampleAnalyses(defaultPlan());
}, 120_000);

const finding = (key: string): Finding => findingNamed(analyses, key);
const rowsOf = (key: string, table: string) =>
  finding(key).tables.find(candidate => candidate.key === table)?.rows ?? [];

/** A cell that holds a name. */
const textOf = (cell: Cell): string =>
  typeof cell === 'string' || typeof cell === 'number' ? String(cell) : '';

/** Numbers of a cell in the order of the recomputation: count and size, or lower quartile, median and upper quartile. */
function cellNumbers(cell: Cell): readonly (number | undefined)[] {
  if (typeof cell === 'number') return [cell];
  if (typeof cell !== 'object') return [];
  if ('of' in cell) return [cell.count, cell.of];
  if ('median' in cell) return [cell.lowerQuartile, cell.median, cell.upperQuartile];
  return [cell.estimate, cell.lower, cell.upper];
}

describe('tables of the sample, against an independent recomputation in R', () => {
  it('describes the same feet at first fitting, band by band', () => {
    const rows = rowsOf('baseline', 'baseline');
    const expected = held('baseline', 'tables', 'baseline') as Tree;
    let compared = 0;
    for (const [group, lines] of Object.entries(expected)) {
      for (const [line, values] of Object.entries(lines as Tree)) {
        const cell = rows.find(row => row.line === line)?.[group];
        if (values === null) expect(cell).toBeUndefined();
        else expectAll(cellNumbers(cell), listOf(values), `${line}, ${group}`);
        compared++;
      }
    }
    // The last line, follow-up, stands among the measures.
    expect(compared).toBe((rows.length - 1) * Object.keys(expected).length);
  });

  it('has every alternative of the sensitivity table', () => {
    const [table] = finding('sensitivity').tables;
    const keys = finding('sensitivity').measures.map(({ key }) => key);
    const columns = held('sensitivity', 'columns') as Tree;
    expect(Object.keys(columns)).toEqual(table?.columns.slice(1).map(({ key }) => key));
    let compared = 0;
    for (const [column, values] of Object.entries(columns)) {
      for (const [place, row] of (table?.rows ?? []).entries()) {
        const expected = (values as Readonly<Record<string, readonly Value[]>>)[keys[place] ?? ''];
        const cell = row[column];
        const at = `${textOf(row.number)}, ${column}`;
        if (expected === undefined) expect(cell, at).toBeUndefined();
        else if (typeof cell === 'string') {
          // The interval-censored median is a stretch, printed with one decimal.
          expect(cell, at).toBe(
            expected
              .slice(1)
              .map(value => Number(value).toFixed(1))
              .join(' to '),
          );
        } else if (column === 'interval-censored' && keys[place] !== 'cox.trend') {
          // Its limits are resampled: sample-findings.test.ts.
          expectAll(cellNumbers(cell).slice(0, 1), expected.slice(0, 1), at);
        } else expectAll(cellNumbers(cell), expected, at);
        compared++;
      }
    }
    expect(compared).toBe(9 * 12);
  });

  it('fits the four distributions the same', () => {
    const rows = rowsOf('duration-model-checks', 'distributions');
    expect(rows).toHaveLength(
      Object.keys(held('duration-model-checks', 'tables', 'distributions') as Tree).length,
    );
    for (const row of rows) {
      const name = `${textOf(row.distribution).replace(' (planned)', '')} ${textOf(row.model)}`;
      const own = [row.n, row.finished, row.logLikelihood, row.akaike, row.ratio].flatMap(cellNumbers);
      expectAll(own, listAt('duration-model-checks', 'tables', 'distributions', name), name);
    }
  });

  it('has the same adherence by week, causes of skin events, case mix and feet overdue', () => {
    for (const row of rowsOf('adherence', 'by-week')) {
      const classes = Object.keys(row).filter(key => key.startsWith('class'));
      const counts = classes.sort().map(key => cellNumbers(row[key])[0]);
      const own = [...[row.feet, row.infants, row.adherence].flatMap(cellNumbers), ...counts];
      expectAll(own, listAt('adherence', 'tables', 'by-week', textOf(row.week)), `week ${textOf(row.week)}`);
    }
    for (const row of rowsOf('skin-safety', 'causes')) {
      const causes = held('skin-safety', 'tables', 'causes', textOf(row.kind)) as Tree;
      for (const [cause, count] of Object.entries(causes)) {
        expect(cellNumbers(row[cause])[0], `${textOf(row.kind)}, ${cause}`).toBe(count);
      }
    }
    for (const row of rowsOf('audit-comparison', 'case-mix')) {
      const { feet, infants, mild, moderate, severe, other, age } = row;
      const shares = [mild, moderate, severe, other].map(cell => cellNumbers(cell)[0]);
      const own = [...[feet, infants].flatMap(cellNumbers), ...shares, ...cellNumbers(age)];
      expectAll(own, listAt('audit-comparison', 'tables', 'case-mix', textOf(row.site)), textOf(row.site));
    }
    for (const row of rowsOf('audit-overdue', 'overdue')) {
      const own = [row.therapy, row.overdue, row.hours24, row.hours15, row.hours12].flatMap(cellNumbers);
      expectAll(own, listAt('audit-overdue', 'tables', 'overdue', textOf(row.site)), textOf(row.site));
    }
    const [position, , flexibility, crease] = rowsOf('assessor-agreement', 'agreement');
    for (const [row, key] of [
      [position, 'position'],
      [flexibility, 'flexibility'],
      [crease, 'crease'],
    ] as const) {
      expect(cellNumbers(row?.same)[0]).toBe(held('assessor-agreement', 'tables', 'same', key));
    }
  });

  it('has the same share of information missing after imputation', () => {
    const rows = rowsOf('duration-missing-findings', 'imputed');
    const expected = Object.entries(
      held('duration-missing-findings', 'missingInformation') as Readonly<Record<string, number>>,
    )
      .filter(([key]) => key.startsWith('time.'))
      .map(([, value]) => value);
    expectAll(
      rows.flatMap(row => cellNumbers(row.missing)),
      expected,
      'missing',
    );
  });

  it('holds no number in a table that is not among those compared', () => {
    // By how much visit dating is late is the difference of two columns beside it; the interval-censored column of the
    // sensitivity table is held above.
    const derived = new Set(['lateAtLeast', 'lateAtMost', 'limits', 'interval-censored']);
    // A table may set numbers of another finding beside its own.
    const known = new Set(
      analyses
        .flatMap(({ finding: { key, measures, effects = [], tests, standards = [] } }) =>
          numbersIn([recomputedFinding(key), measures, effects, tests, standards]),
        )
        .map(rounded),
    );
    for (const { finding: one } of analyses) {
      for (const { key, rows, columns } of one.tables) {
        const strange = rows.flatMap(row =>
          columns.flatMap(column =>
            derived.has(column.key) || column.key === 'week'
              ? []
              : numbersIn(row[column.key]).filter(value => !known.has(rounded(value))),
          ),
        );
        expect(strange, `${one.key}, ${key}`).toEqual([]);
      }
    }
  });
});

const rounded = (value: number): string => (value === 0 ? '0' : value.toPrecision(7));
