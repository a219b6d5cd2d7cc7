import * as fc from 'fast-check';

/** One row of made-up follow-up: whole days with many ties. */
export interface MadeRow {
  readonly time: number;
  readonly event: number;
  readonly cause: number;
  /** 0 or a day before the exit. */
  readonly entry: number;
  readonly weight: number;
  readonly cluster: number;
  readonly group: string;
}

const row: fc.Arbitrary<MadeRow> = fc
  .record({
    time: fc.integer({ min: 1, max: 15 }),
    cause: fc.integer({ min: 0, max: 2 }),
    before: fc.integer({ min: 0, max: 20 }),
    weight: fc.integer({ min: 1, max: 3 }),
    cluster: fc.integer({ min: 0, max: 6 }),
    group: fc.constantFrom('a', 'b', 'c'),
  })
  .map(({ before, ...rest }) => ({
    ...rest,
    event: rest.cause > 0 ? 1 : 0,
    entry: Math.max(0, rest.time - 1 - before),
  }));

export const madeRows = fc.array(row, { minLength: 1, maxLength: 30 });

/** Columns of the rows, frozen, so that a function that writes to its input fails. */
export function columns(rows: readonly MadeRow[]) {
  const column = <K extends keyof MadeRow>(name: K) => Object.freeze(rows.map(r => r[name]));
  return {
    time: column('time'),
    event: column('event'),
    cause: column('cause'),
    entry: column('entry'),
    weight: column('weight'),
    cluster: column('cluster'),
    group: column('group'),
  };
}

/** As many rows as the weights say. */
export function repeated(rows: readonly MadeRow[]): MadeRow[] {
  return rows.flatMap(r => Array.from({ length: r.weight }, () => ({ ...r, weight: 1 })));
}

/** Each row with a day to spare cut in two at a day within it; the first piece is censored there. */
export function splitInTwo(rows: readonly MadeRow[]): MadeRow[] {
  return rows.flatMap(r => {
    const cut = Math.floor((r.entry + r.time) / 2);
    if (cut <= r.entry) return [r];
    return [
      { ...r, time: cut, event: 0, cause: 0 },
      { ...r, entry: cut },
    ];
  });
}
