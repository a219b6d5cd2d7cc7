import { describe, expect, it } from 'vitest';
import {
  cumulativeIncidence,
  cumulativeIncidenceByGroup,
  incidenceAt,
} from '../../../src/statistics/competing-risks/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';
import { expectNearOrAbsent } from '../near-or-absent.ts';

type Table = readonly (readonly (number | null)[])[];
interface States {
  readonly n: number;
  readonly time: readonly number[];
  readonly nRisk: Table;
  readonly nEvent: Table;
  readonly pstate: Table;
  readonly stdErr: Table;
  readonly lower: Table;
  readonly upper: Table;
}
interface AalenJohansen {
  readonly full?: Readonly<Record<string, States>>;
  readonly atTimes: Readonly<Record<string, States>>;
  readonly ciTypes?: Readonly<Record<string, Readonly<Record<string, Pick<States, 'lower' | 'upper'>>>>>;
}

const myeloma = dataset('mgus2_cr');
const mgus = Object.freeze({
  time: Object.freeze(numbers(myeloma, 'etime')),
  cause: Object.freeze(numbers(myeloma, 'event')),
  group: Object.freeze(myeloma.map(row => row.sex ?? '')),
});
const waiting = dataset('transplant');
const codes: Readonly<Record<string, number>> = { censored: 0, death: 1, ltx: 2, withdraw: 3 };
const transplant = Object.freeze({
  time: Object.freeze(numbers(waiting, 'futime')),
  cause: Object.freeze(waiting.map(row => codes[row.event ?? ''] ?? Number.NaN)),
  group: Object.freeze(waiting.map(row => row.abo ?? '')),
});

/** The column of a cause: the first is the event-free state. */
function value(table: Table | undefined, k: number, j: number): number | undefined {
  return table?.[k]?.[j + 1] ?? undefined;
}

function curvesOf(data: typeof mgus, options: Parameters<typeof cumulativeIncidenceByGroup>[1]) {
  const all = { group: 'all', ...cumulativeIncidence(data, options) };
  return [all, ...cumulativeIncidenceByGroup(data, options)];
}

describe('Aalen-Johansen against reference values', () => {
  // Reference: multi-state survfit (infinitesimal jackknife), R package survival 3.5-3. Its limits are on the
  // log scale unless named.
  const cases = [
    ['aj-mgus2-all', mgus],
    ['aj-mgus2-sex', mgus],
    ['aj-transplant-abo', transplant],
  ] as const;
  for (const [file, data] of cases) {
    it(`${file}: incidence, jackknife errors and three interval kinds`, () => {
      const reference = referenceValues(file).values as AalenJohansen;
      const find = <T>(curves: Readonly<Record<string, T>> | undefined, group: string | number) =>
        Object.entries(curves ?? {}).find(([key]) => key === group || key.endsWith(`=${group}`))?.[1];
      let compared = 0;
      for (const { group, causes, eventFree } of curvesOf(data, { interval: 'log' })) {
        const full = find(reference.full, group);
        const atTimes = find(reference.atTimes, group);
        for (const [j, cause] of causes.entries()) {
          for (const [k, time] of (full?.time ?? []).entries()) {
            expect(cause.time[k]).toBe(time);
            expectNearOrAbsent(cause.atRisk[k], full?.nRisk[k]?.[0] ?? undefined, 'at risk');
            expectNearOrAbsent(cause.events[k], value(full?.nEvent, k, j), 'events');
            expectNearOrAbsent(cause.incidence[k], value(full?.pstate, k, j), 'incidence');
            expectNearOrAbsent(cause.standardError[k], value(full?.stdErr, k, j), 'standard error');
            expectNearOrAbsent(cause.lower[k], value(full?.lower, k, j), 'lower');
            expectNearOrAbsent(cause.upper[k], value(full?.upper, k, j), 'upper');
            expectNearOrAbsent(eventFree[k], value(full?.pstate, k, -1), 'event-free');
            compared++;
          }
          for (const [k, row] of (atTimes ? incidenceAt(cause, atTimes.time) : []).entries()) {
            expectNearOrAbsent(row.incidence, value(atTimes?.pstate, k, j), 'incidence at a time');
            expectNearOrAbsent(row.standardError, value(atTimes?.stdErr, k, j), 'error at a time');
            expectNearOrAbsent(row.lower, value(atTimes?.lower, k, j), 'lower at a time');
            expectNearOrAbsent(row.upper, value(atTimes?.upper, k, j), 'upper at a time');
            compared++;
          }
        }
      }
      expect(compared).toBeGreaterThan(50);
      for (const interval of ['plain', 'log', 'log-log'] as const) {
        for (const { group, causes } of curvesOf(data, { interval })) {
          const limits = find(reference.ciTypes?.[interval], group);
          for (const [j, cause] of (limits ? causes : []).entries()) {
            const times = find(reference.atTimes, group)?.time ?? [0];
            for (const [k, row] of incidenceAt(cause, times).entries()) {
              expectNearOrAbsent(row.lower, value(limits?.lower, k, j), `${interval} lower`);
              expectNearOrAbsent(row.upper, value(limits?.upper, k, j), `${interval} upper`);
            }
          }
        }
      }
    });
  }

  it('cuminc-gray: delta-method variance and log-log limits', () => {
    // Reference: cuminc, R package cmprsk 2.2-11.
    interface Part {
      readonly curves: readonly string[];
      readonly times: readonly number[];
      readonly est: Table;
      readonly var: Table;
      readonly llLower: Table;
      readonly llUpper: Table;
    }
    const reference = referenceValues('cuminc-gray').values as Readonly<Record<string, Part>>;
    const check = (part: Part | undefined, data: typeof mgus) => {
      const curves = curvesOf(data, { variance: 'delta-method' });
      for (const [i, name] of (part?.curves ?? []).entries()) {
        const [group = '', cause] = name.split(' ');
        const of = curves.find(c => c.group === (group === '1' ? 'all' : group));
        const curve = of?.causes.find(c => c.cause === Number(cause));
        if (!part || !curve) throw new Error(`no curve ${name}`);
        for (const [k, row] of incidenceAt(curve, part.times).entries()) {
          const at = (table: Table) => table[i]?.[k] ?? undefined;
          // The package gives nothing past the last observed time, where ours carries the last value forward
          // and says so.
          expect(row.beyondFollowUp).toBe(part.est[i]?.[k] === null);
          if (row.beyondFollowUp) continue;
          expectNearOrAbsent(row.incidence, at(part.est), `${name} incidence`);
          expectNearOrAbsent(row.standardError ** 2, at(part.var), `${name} variance`);
          expectNearOrAbsent(row.lower, at(part.llLower), `${name} lower`);
          expectNearOrAbsent(row.upper, at(part.llUpper), `${name} upper`);
        }
      }
    };
    check(reference.mgusSex, mgus);
    check(reference.mgusAll, mgus);
    check(reference.transplantAbo, transplant);
  });
});

describe('Aalen-Johansen, worked by hand', () => {
  // Late entry, ties, unsorted. At 2: 3 at risk, one event of each cause; at 4: 2 at risk, one of cause 1; at
  // 6: the last one, cause 2.
  const data = Object.freeze({
    time: Object.freeze([4, 2, 6, 2]),
    cause: Object.freeze([1, 2, 2, 1]),
    entry: Object.freeze([0, 0, 3, 0]),
  });

  it('steps by event-free survival times the share of those at risk', () => {
    const { causes, eventFree } = cumulativeIncidence(data);
    expect(causes.map(c => c.cause)).toEqual([1, 2]);
    expect(causes[0]?.atRisk).toEqual([3, 2, 1]);
    const close = (values: readonly number[]) => values.map(v => expect.closeTo(v, 14) as number);
    expect(causes[0]?.incidence).toEqual(close([1 / 3, 1 / 3 + 1 / 6, 1 / 2]));
    expect(causes[1]?.incidence).toEqual(close([1 / 3, 1 / 3, 1 / 2]));
    expect(eventFree).toEqual(close([1 / 3, 1 / 6, 0]));
  });

  it('without censoring the jackknife error is the binomial one', () => {
    const whole = { time: [1, 2, 3, 4, 5], cause: [1, 2, 1, 2, 1] };
    const [first] = cumulativeIncidence(whole).causes;
    for (const [k, p] of (first?.incidence ?? []).entries()) {
      expectNear(first?.standardError[k], Math.sqrt((p * (1 - p)) / 5), 1e-12);
    }
  });

  it('sums influences by cluster', () => {
    // Without censoring U = (had the cause by t - F) / n; both of cluster x have cause 1 by 2: U_x = 2 (1 -
    // 1/2) / 4.
    const { causes } = cumulativeIncidence({
      time: [1, 2, 5, 5],
      cause: [1, 1, 0, 2],
      cluster: ['x', 'x', 'y', 'y'],
    });
    expectNear(causes[0]?.standardError[1], Math.sqrt(2 * 0.25 ** 2), 1e-14);
  });

  it('gives a cause that is named but does not occur, and keeps the order asked for', () => {
    const { causes } = cumulativeIncidence({ time: [1, 2], cause: ['b', 0] }, { causes: ['c', 'b'] });
    expect(causes.map(c => [c.cause, c.incidence.at(-1)])).toEqual([
      ['c', 0],
      ['b', 0.5],
    ]);
    expect(causes[0]?.lower).toEqual([undefined, undefined]);
  });

  it('refuses what it cannot use, by name', () => {
    expect(errorCode(() => cumulativeIncidence({ time: [1, 2], cause: [0, 0] }))).toBe('no-events');
    expect(errorCode(() => cumulativeIncidence({ time: [], cause: [] }))).toBe('empty');
    expect(errorCode(() => cumulativeIncidence({ time: [1, 2], cause: [1] }))).toBe('length');
    expect(errorCode(() => cumulativeIncidence({ time: [1, -2], cause: [1, 0] }))).toBe('out-of-range');
    expect(errorCode(() => cumulativeIncidence({ time: [1], cause: [Number.NaN] }))).toBe('missing-value');
    expect(errorCode(() => cumulativeIncidence({ time: [1], cause: [3] }, { causes: [1, 2] }))).toBe(
      'out-of-range',
    );
    expect(errorCode(() => cumulativeIncidence({ ...data, entry: [0, 2, 3, 0] }))).toBe(
      'entry-not-before-exit',
    );
    const delta = { variance: 'delta-method' } as const;
    expect(errorCode(() => cumulativeIncidence({ ...data, cluster: [1, 1, 2, 2] }, delta))).toBe(
      'unknown-option',
    );
    expect(errorCode(() => cumulativeIncidence({ ...data, weight: [0.5, 1, 1, 1] }, delta))).toBe(
      'unknown-option',
    );
  });
});
