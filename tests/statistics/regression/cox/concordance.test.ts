import { describe, expect, it } from 'vitest';
import { dataset, numbers, referenceValues } from '../../../reference/load.ts';
import { concordance } from '../../../../src/statistics/regression/cox/concordance.ts';
import { expectClose } from '../close.ts';
import * as data from './datasets.ts';

const reference = referenceValues('concordance').values as Record<
  string,
  { concordance: number; se: number }
>;

describe('concordance against R survival 3.5-3', () => {
  const veteran = dataset('veteran');
  const base = {
    time: numbers(veteran, 'time'),
    event: numbers(veteran, 'status'),
    score: numbers(veteran, 'karno').map(x => -x),
  };

  it.each([
    ['lungAge', () => ({ ...data.lung(['age']), score: data.lung(['age']).covariates['age'] as number[] })],
    ['veteranKarno', () => base],
    ['veteranKarnoStrata', () => ({ ...base, strata: veteran.map(row => row['celltype'] as string) })],
  ] as const)('%s', (name, columns) => {
    const result = concordance(columns());
    expectClose(result.estimate, reference[name]?.concordance as number);
    expectClose(result.standardError, reference[name]?.se as number);
  });

  /** Every pair by the definition, with its derivative by each weight. */
  function byPairs(columns: {
    time: number[];
    event: number[];
    entry: number[];
    weight: number[];
    strata: number[];
    score: number[];
  }): { estimate: number; standardError: number } {
    const { time, event, entry, weight, strata, score } = columns;
    const n = time.length;
    const wins = time.map(() => 0);
    const pairs = time.map(() => 0);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const [ti, tj] = [time[i] as number, time[j] as number];
        const comparable =
          i !== j &&
          event[i] === 1 &&
          strata[i] === strata[j] &&
          (entry[j] as number) < ti &&
          (tj > ti || (tj === ti && event[j] === 0));
        if (!comparable) continue;
        const [a, b] = [score[i] as number, score[j] as number];
        const win = a > b ? 1 : a === b ? 0.5 : 0;
        for (const [x, y] of [
          [i, j],
          [j, i],
        ] as const) {
          wins[x] = (wins[x] as number) + win * (weight[y] as number);
          pairs[x] = (pairs[x] as number) + (weight[y] as number);
        }
      }
    }
    const total = (values: number[]) => values.reduce((sum, v, i) => sum + v * (weight[i] as number), 0) / 2;
    const estimate = total(wins) / total(pairs);
    const influence = wins.map(
      (win, i) => ((weight[i] as number) * (win - estimate * (pairs[i] as number))) / total(pairs),
    );
    return { estimate, standardError: Math.sqrt(influence.reduce((sum, x) => sum + x * x, 0)) };
  }

  // Of 6,000 rows one stratum has more distinct scores than are counted in a single walk.
  it.each([60, 6000])(
    'equals the count of all pairs of %i rows with ties, late entry, weights and strata',
    n => {
      let seed = 7;
      const random = (k: number): number => {
        seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
        return Math.floor((seed / 2_147_483_648) * k);
      };
      const rows = Array.from({ length: n }, () => {
        const entry = random(20);
        return {
          entry,
          time: entry + 1 + random(20),
          event: random(2),
          weight: 1 + random(3) / 2,
          strata: random(12) === 0 ? 1 : 0,
          score: random(n < 100 ? n / 2 : 4 * n),
        };
      });
      const columns = {
        time: rows.map(row => row.time),
        event: rows.map(row => row.event),
        entry: rows.map(row => row.entry),
        weight: rows.map(row => row.weight),
        strata: rows.map(row => row.strata),
        score: rows.map(row => row.score),
      };
      const expected = byPairs(columns);
      const actual = concordance(columns);
      expectClose(actual.estimate, expected.estimate, 1e-12);
      expectClose(actual.standardError, expected.standardError, 1e-10);
      const noEntry = { ...columns, entry: columns.time.map(() => -1) };
      const { entry: _, ...late } = columns;
      expectClose(concordance(late).standardError, byPairs(noEntry).standardError, 1e-10);
    },
  );

  it('is one half for a score that does not vary', () => {
    const result = concordance({ time: [4, 2, 3], event: [1, 1, 0], score: [1, 1, 1] });
    expect(result).toEqual({ estimate: 0.5, standardError: 0 });
  });

  it('has no estimate where no two rows can be compared', () => {
    const result = concordance({ time: [4, 4, 3], event: [1, 1, 0], score: [1, 2, 3] });
    expect(result).toEqual({ estimate: undefined, standardError: undefined });
  });
});
