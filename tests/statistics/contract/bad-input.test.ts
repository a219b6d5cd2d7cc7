import { describe, expect, it } from 'vitest';
import { StatisticsError } from '../../../src/statistics/index.ts';
import { type Columns, type ContractCall, calls, title } from './calls.ts';
import { unfit } from './walk.ts';

const withColumns = calls.filter(call => Object.keys(call.columns).length > 0);

/** Every column of every call, each to be spoilt in turn. */
const columnsOfCalls = withColumns.flatMap(call =>
  Object.keys(call.columns).map(name => [title(call), name, call] as const),
);

function spoilt(columns: Columns, name: string, change: (values: unknown[]) => unknown[]): Columns {
  return { ...columns, [name]: change(Array.from(columns[name] ?? [])) as number[] };
}

function outcome(call: ContractCall, columns: Columns): unknown {
  try {
    return call.run(columns);
  } catch (error) {
    return error;
  }
}

const isNumeric = (columns: Columns, name: string): boolean =>
  Array.from(columns[name] ?? []).every(value => typeof value === 'number');

describe('bad input', () => {
  it.each(columnsOfCalls)('%s refuses an empty %s by name', (_, name, call) => {
    expect(
      outcome(
        call,
        spoilt(call.columns, name, () => []),
      ),
    ).toBeInstanceOf(StatisticsError);
  });

  it.each(withColumns.map(call => [title(call), call] as const))('%s refuses no rows at all', (_, call) => {
    const empty = Object.fromEntries(Object.keys(call.columns).map(name => [name, []]));
    expect(outcome(call, empty)).toBeInstanceOf(StatisticsError);
  });

  it.each(columnsOfCalls)('%s refuses a missing value in %s and says where', (_, name, call) => {
    for (const nothing of [undefined, null, Number.NaN]) {
      const error = outcome(
        call,
        spoilt(call.columns, name, values => values.with(1, nothing)),
      );
      // Absence of a next state says that a spell ended in the state it was in.
      if (name === 'to' && typeof nothing !== 'number') continue;
      expect(error).toBeInstanceOf(StatisticsError);
      expect((error as StatisticsError).code).toBe('missing-value');
    }
  });

  it.each(columnsOfCalls.filter(([, name, call]) => isNumeric(call.columns, name)))(
    '%s refuses an infinite %s or gives a fit result',
    (_, name, call) => {
      for (const value of [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
        const result = outcome(
          call,
          spoilt(call.columns, name, values => values.with(1, value)),
        );
        if (!(result instanceof StatisticsError)) {
          // Infinity is a right-censored upper limit, -Infinity a left-censored lower one; either may be a label.
          expect(['lower', 'upper', 'group', 'cluster', 'strata', 'subject', 'cause']).toContain(name);
          if (name === 'upper') expect(value).toBe(Number.POSITIVE_INFINITY);
          if (name === 'lower') expect(value).toBe(Number.NEGATIVE_INFINITY);
        }
      }
    },
  );

  it.each(
    columnsOfCalls.filter(
      ([, , call]) => call.columns['counts'] === undefined && Object.keys(call.columns).length > 1,
    ),
  )('%s refuses a %s of another length', (_, name, call) => {
    // The two samples may differ in size; the length of the only column of a resampling plan is the size itself.
    if (call.name === 'wilcoxonRankSum' || call.name === 'permutationTest') return;
    const error = outcome(
      call,
      spoilt(call.columns, name, values => values.slice(1)),
    );
    expect(error).toBeInstanceOf(StatisticsError);
  });

  it.each(
    columnsOfCalls.filter(([, name]) => ['time', 'entry', 'weight', 'start', 'stop', 'end'].includes(name)),
  )('%s refuses a negative %s', (_, name, call) => {
    // A Cox model's clock may start before 0, so that an event at 0 has a risk set.
    if (call.name === 'coxModel' && name === 'entry') return;
    const error = outcome(
      call,
      spoilt(call.columns, name, values => values.with(2, -1)),
    );
    expect(error).toBeInstanceOf(StatisticsError);
  });

  it.each(columnsOfCalls.filter(([, name]) => name === 'entry'))(
    '%s refuses an entry at or after the exit',
    (_, name, call) => {
      const at = spoilt(call.columns, name, values => values.with(0, call.columns['time']?.[0]));
      const after = spoilt(call.columns, name, values => values.with(0, 100));
      for (const columns of [at, after]) {
        expect(outcome(call, columns)).toMatchObject({ code: 'entry-not-before-exit' });
      }
    },
  );
});

describe('poor but possible data end in a named error or a result without NaN, infinity or null', () => {
  const poor: readonly (readonly [string, string, (values: unknown[]) => unknown[]])[] = [
    ['all censored', 'event', values => values.map(() => 0)],
    ['one event', 'event', values => values.map((_, i) => (i === 3 ? 1 : 0))],
    ['all events', 'event', values => values.map(() => 1)],
    ['only a last event', 'event', values => values.map((_, i) => (i === 8 ? 1 : 0))],
    ['all censored', 'cause', values => values.map(() => 0)],
    ['one cause', 'cause', values => values.map(() => 1)],
    ['only the other cause', 'cause', values => values.map(() => 2)],
    ['one event', 'cause', values => values.map((_, i) => (i === 3 ? 1 : 0))],
    ['one time', 'time', values => values.map(() => 6)],
    ['times of 0', 'time', values => values.map((v, i) => (i % 3 === 0 ? 0 : v))],
    ['all times 0', 'time', values => values.map(() => 0)],
    ['huge times', 'time', values => values.map(v => Number(v) * 1e12)],
    ['tiny times', 'time', values => values.map(v => Number(v) * 1e-12)],
    ['one group', 'group', values => values.map(() => 'a')],
    ['each row a group', 'group', values => values.map((_, i) => `g${i}`)],
    ['one cluster', 'cluster', values => values.map(() => 1)],
    ['each row a stratum', 'strata', values => values.map((_, i) => i)],
    ['constant covariate', 'x', values => values.map(() => 2)],
    ['zero covariate', 'x', values => values.map(() => 0)],
    ['huge covariate', 'x', values => values.map(v => Number(v) * 1e8)],
    ['tiny covariate', 'x', values => values.map(v => Number(v) * 1e-10)],
    ['shifted covariate', 'x', values => values.map(v => Number(v) + 1e6)],
    ['one row stands out', 'x', values => values.map((_, i) => (i === 4 ? 1 : 0))],
    ['weights of 0', 'weight', values => values.map((_, i) => (i % 2 === 0 ? 0 : 1))],
    ['one weight', 'weight', values => values.map((_, i) => (i === 4 ? 1 : 0))],
    ['fractional weights', 'weight', values => values.map((_, i) => 0.25 + 0.1 * i)],
    ['equal values', 'value', values => values.map(() => 3)],
    ['equal outcomes', 'outcome', values => values.map(() => 1)],
    ['outcomes of 0', 'outcome', values => values.map(() => 0)],
    ['no counts', 'counts', values => values.map(() => 0)],
    ['first count 0', 'counts', values => values.with(0, 0)],
    ['third count 0', 'counts', values => values.with(2, 0)],
    ['a row of 0', 'a', values => values.map(() => 0)],
    ['no events', 'events', values => values.map(() => 0)],
    ['points', 'upper', values => values],
  ];
  const cases = poor.flatMap(([what, name, change]) =>
    calls
      .filter(call => name in call.columns)
      .map(call => [title(call), `${what} (${name})`, name, change, call] as const),
  );
  it.each(cases)('%s: %s', (_, __, name, change, call) => {
    const result = outcome(call, spoilt(call.columns, name, change));
    if (result instanceof Error) expect(result).toBeInstanceOf(StatisticsError);
    else expect(unfit(result)).toEqual([]);
  });

  const withX = calls.filter(
    call => 'x' in call.columns && 'w' in call.columns && !['spearman', 'kendall'].includes(call.name),
  );
  it.each(withX.map(call => [title(call), call] as const))('%s: collinear covariates', (_, call) => {
    const w = Array.from(call.columns['x'] ?? [], v => 2 * Number(v) - 3);
    expect(outcome(call, { ...call.columns, w })).toMatchObject({ code: 'collinear-covariates' });
  });

  it.each(
    withColumns
      .filter(call => call.columns['counts'] === undefined)
      .map(call => [title(call), call] as const),
  )('%s: one row, two rows', (_, call) => {
    for (const rows of [1, 2]) {
      const few = Object.fromEntries(
        Object.entries(call.columns).map(([name, values]) => [name, Array.from(values).slice(0, rows)]),
      );
      const result = outcome(call, few);
      if (result instanceof Error) expect(result).toBeInstanceOf(StatisticsError);
      else expect(unfit(result)).toEqual([]);
    }
  });

  const separable: readonly (readonly [string, string, string])[] = [
    ['coxModel', 'time', 'monotone'],
    ['logisticModel', 'outcome', 'separation'],
  ];
  it.each(separable)('%s: a covariate that separates is named', (name, outcomeColumn) => {
    const call = calls.find(c => c.name === name);
    if (call === undefined) throw new Error(`${name} is not in the table`);
    const separating = Array.from(call.columns[outcomeColumn] ?? [], v => -Number(v));
    const columns: Columns = { ...call.columns, x: separating };
    const { w: _, ...others } = columns;
    const result = call.run(others) as {
      warnings: readonly { covariates: readonly string[] }[];
      terms: readonly { name: string; estimate: string }[];
    };
    expect(unfit(result)).toEqual([]);
    expect(result.warnings.flatMap(warning => warning.covariates)).toContain('x');
    expect(result.terms.find(term => term.name === 'x')?.estimate).not.toBe('finite');
  });
});
