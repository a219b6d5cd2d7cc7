import { describe, expect, it } from 'vitest';
import { cumulativeIncidence } from '../../../src/statistics/competing-risks/index.ts';
import { type SpellData, stateOccupancy } from '../../../src/statistics/multi-state/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';
import { expectNearOrAbsent } from '../near-or-absent.ts';

type Table = readonly (readonly (number | null)[])[];
interface Path {
  readonly time: readonly number[];
  readonly pstate: Table;
  readonly stdErr: Table;
  readonly lower: Table;
  readonly upper: Table;
}
interface MeanTimes {
  readonly tau: number;
  readonly curves: Readonly<
    Record<string, { readonly meanTime: readonly number[]; readonly se: readonly number[] }>
  >;
}
interface Reference {
  readonly transitions: { readonly counts: Table };
  readonly full: Readonly<Record<string, Path>>;
  readonly atTimes: Readonly<Record<string, Path>>;
  readonly timeInState: MeanTimes;
}

// Reference: multi-state survfit, R package survival 3.5-3; mean time in state from its influences, by
// formula in the script.

/** Rows that name only the state entered, as spells: each goes on from the state entered before. */
function spellsOf(
  subject: readonly (string | number)[],
  start: readonly number[],
  stop: readonly number[],
  event: readonly string[],
  first: string,
): SpellData {
  const now = new Map<string | number, string>();
  const from: string[] = [];
  const to = event.map((state, i) => {
    const who = subject[i] ?? '';
    from.push(now.get(who) ?? first);
    if (state !== '') now.set(who, state);
    return state;
  });
  return Object.freeze({ subject, start, stop, from: Object.freeze(from), to: Object.freeze(to) });
}

const names = ['entry', 'CR', 'relapse', 'death'];
const myeloid = dataset('myeloid_ms');
const arm = (trt: string) => {
  const rows = myeloid.filter(row => row.trt === trt);
  const event = rows.map(row => (row.event === '0' ? '' : (names[Number(row.event)] ?? '')));
  return spellsOf(
    rows.map(row => row.id ?? ''),
    numbers(rows, 'tstart'),
    numbers(rows, 'tstop'),
    event,
    'entry',
  );
};

describe('state occupancy against reference values', () => {
  const reference = referenceValues('multistate-myeloid').values as Reference;
  for (const trt of ['A', 'B']) {
    it(`multistate-myeloid, arm ${trt}: probabilities, errors, limits, mean time in state`, () => {
      const found = stateOccupancy(arm(trt), {
        states: names,
        horizon: reference.timeInState.tau,
        interval: 'log',
      });
      const full = reference.full[`trt=${trt}`];
      const at = reference.atTimes[`trt=${trt}`];
      expect(found.time).toEqual(full?.time);
      const mean = reference.timeInState.curves[`trt=${trt}`];
      for (const [s, state] of names.entries()) {
        for (const k of found.time.keys()) {
          expectNear(found.probability[state]?.[k], full?.pstate[k]?.[s] ?? 0);
          expectNear(found.standardError[state]?.[k], full?.stdErr[k]?.[s] ?? 0);
        }
        for (const [i, time] of (at?.time ?? []).entries()) {
          const k = found.time.findLastIndex(t => t <= time);
          expectNearOrAbsent(found.lower[state]?.[k], at?.lower[i]?.[s], 'lower');
          expectNearOrAbsent(found.upper[state]?.[k], at?.upper[i]?.[s], 'upper');
        }
        expectNear(found.meanTimeInState[state]?.estimate, mean?.meanTime[s] ?? 0);
        expectNear(found.meanTimeInState[state]?.standardError, mean?.se[s] ?? 0);
      }
    });
  }

  it('multistate-myeloid: transition counts of both arms together', () => {
    const counts = [...stateOccupancy(arm('A')).transitions, ...stateOccupancy(arm('B')).transitions];
    for (const [a, from] of names.entries()) {
      for (const [b, to] of names.slice(1).entries()) {
        const count = counts.filter(t => t.from === from && t.to === to).reduce((sum, t) => sum + t.count, 0);
        expect(count, `${from} to ${to}`).toBe(reference.transitions.counts[a]?.[b]);
      }
    }
  });

  it('multistate-heart: waiting, transplant, death', () => {
    const values = referenceValues('multistate-heart').values as Path & {
      readonly rows: {
        readonly id: number[];
        readonly start: number[];
        readonly stop: number[];
        readonly ev: string[];
      };
      readonly timeInState: MeanTimes;
    };
    const { id, start, stop, ev } = values.rows;
    const states = ['wait', 'transplant', 'dead'];
    const spells = spellsOf(
      id,
      start,
      stop,
      ev.map(e => (e === 'none' ? '' : e)),
      'wait',
    );
    const found = stateOccupancy(spells, { states, horizon: values.timeInState.tau });
    const mean = values.timeInState.curves.all;
    for (const [s, state] of states.entries()) {
      for (const [i, time] of values.time.entries()) {
        const k = found.time.findLastIndex(t => t <= time);
        expectNear(found.probability[state]?.[k], values.pstate[i]?.[s] ?? 0);
        expectNear(found.standardError[state]?.[k], values.stdErr[i]?.[s] ?? 0);
      }
      expectNear(found.meanTimeInState[state]?.estimate, mean?.meanTime[s] ?? 0);
      expectNear(found.meanTimeInState[state]?.standardError, mean?.se[s] ?? 0);
    }
  });

  it('etm-myeloid: the transition probabilities from entry at 0 are the occupancy', () => {
    // Reference: etm 1.1.1, the first row of its matrices.
    interface Matrices {
      readonly s0: { readonly times: readonly number[]; readonly P: readonly Table[] };
    }
    const values = referenceValues('etm-myeloid').values as Readonly<Record<string, Matrices>>;
    for (const trt of ['A', 'B']) {
      const found = stateOccupancy(arm(trt), { states: names });
      for (const [i, time] of (values[trt]?.s0.times ?? []).entries()) {
        const k = found.time.findLastIndex(t => t <= time);
        for (const [s, state] of names.entries()) {
          expectNear(found.probability[state]?.[k], values[trt]?.s0.P[i]?.[0]?.[s] ?? 0);
        }
      }
    }
  });

  for (const [file, groups] of [
    ['aj-mgus2-sex', ['F', 'M']],
    ['aj-mgus2-all', ['all']],
  ] as const) {
    it(`${file}: mean time in state with competing ends as states`, () => {
      const values = referenceValues(file).values as { readonly timeInState: MeanTimes };
      for (const group of groups) {
        const rows = dataset('mgus2_cr').filter(row => group === 'all' || row.sex === group);
        const to = rows.map(row => ['', 'pcm', 'death'][Number(row.event)] ?? '');
        const found = stateOccupancy(
          {
            subject: rows.map((_, i) => i),
            start: rows.map(() => 0),
            stop: numbers(rows, 'etime'),
            from: rows.map(() => 'free'),
            to,
          },
          { states: ['free', 'pcm', 'death'], horizon: values.timeInState.tau },
        );
        const mean = values.timeInState.curves[group === 'all' ? 'all' : `sex=${group}`];
        for (const [s, state] of ['free', 'pcm', 'death'].entries()) {
          expectNear(found.meanTimeInState[state]?.estimate, mean?.meanTime[s] ?? 0);
          expectNear(found.meanTimeInState[state]?.standardError, mean?.se[s] ?? 0);
        }
      }
    });
  }
});

describe('state occupancy, worked by hand', () => {
  // Two go from a to b at 2 (one of them back at 5), one stays in a: no censoring before 8, so probabilities
  // are shares.
  const data: SpellData = Object.freeze({
    subject: ['x', 'y', 'x', 'z', 'y', 'x'],
    start: [2, 0, 0, 0, 2, 5],
    stop: [5, 2, 2, 8, 8, 8],
    from: ['b', 'a', 'a', 'a', 'b', 'a'],
    to: ['a', 'b', 'b', '', undefined, 'a'],
  });

  it('follows transitions back and forth', () => {
    const found = stateOccupancy(data);
    expect(found.states).toEqual(['a', 'b']);
    expect(found.time).toEqual([2, 5, 8]);
    expect(found.atRisk.a).toEqual([3, 1, 2]);
    expect(found.atRisk.b).toEqual([0, 2, 1]);
    for (const [k, share] of [1 / 3, 2 / 3, 2 / 3].entries()) {
      expectNear(found.probability.a?.[k], share, 1e-14);
      expectNear(found.standardError.a?.[k], Math.sqrt((share * (1 - share)) / 3), 1e-14);
      expectNear(found.standardError.b?.[k], Math.sqrt((share * (1 - share)) / 3), 1e-14);
    }
  });

  it('has the mean of the subjects for the mean time in state, with its error', () => {
    // Time in a up to 8: x 2 + 3, y 2, z 8; mean 5, sum of squares about it 18.
    const { meanTimeInState } = stateOccupancy(data, { horizon: 8 });
    expectNear(meanTimeInState.a?.estimate, 5, 1e-14);
    expectNear(meanTimeInState.a?.standardError, Math.sqrt(18) / 3, 1e-14);
    expectNear(meanTimeInState.b?.estimate, 3, 1e-14);
  });

  it('starts from the shares of the states when not all begin in one, and counts their error', () => {
    const found = stateOccupancy({
      subject: [1, 2, 3, 4],
      start: [0, 0, 0, 0],
      stop: [3, 4, 4, 4],
      from: ['a', 'a', 'a', 'b'],
      to: ['b', '', '', ''],
    });
    expect(found.initial).toEqual({ a: 0.75, b: 0.25 });
    expectNear(found.probability.a?.[0], 0.5, 1e-15);
    expectNear(found.standardError.a?.[0], Math.sqrt(0.25 / 4), 1e-14);
  });

  it('is Aalen-Johansen when there are only competing ends, clusters included', () => {
    const time = [4, 2, 6, 2, 7, 5];
    const cause = [1, 2, 0, 1, 2, 0];
    const cluster = [1, 1, 2, 2, 3, 3];
    const found = stateOccupancy({
      subject: time.map((_, i) => i),
      start: time.map(() => 0),
      stop: time,
      from: time.map(() => 'free'),
      to: cause.map(c => (c === 0 ? null : `cause ${c}`)),
      cluster,
    });
    const { causes } = cumulativeIncidence({ time, cause, cluster });
    for (const [j, { incidence, standardError }] of causes.entries()) {
      for (const k of incidence.keys()) {
        expectNear(found.probability[`cause ${j + 1}`]?.[k], incidence[k] ?? 0, 1e-12);
        expectNear(found.standardError[`cause ${j + 1}`]?.[k], standardError[k] ?? 0, 1e-12);
      }
    }
  });

  it('takes 0 as no transition, unless 0 is a state', () => {
    const base = { subject: [1, 2], start: [0, 0], stop: [3, 4] };
    expect(stateOccupancy({ ...base, from: [1, 1], to: [2, 0] }).states).toEqual([1, 2]);
    expect(stateOccupancy({ ...base, from: [0, 0], to: [1, 0] }).probability[0]).toEqual([0.5, 0.5]);
    expect(
      stateOccupancy({ ...base, from: [1, 1], to: [2, 0] }, { states: [0, 1, 2] }).probability[0],
    ).toEqual([0, 0.5]);
  });

  it('refuses contradictions, by name', () => {
    const two = { subject: [1, 1], start: [0, 3], stop: [3, 5], from: ['a', 'b'], to: ['b', ''] };
    expect(errorCode(() => stateOccupancy({ ...two, start: [0, 2] }))).toBe('out-of-range');
    expect(errorCode(() => stateOccupancy({ ...two, from: ['a', 'a'] }))).toBe('out-of-range');
    expect(errorCode(() => stateOccupancy({ ...two, start: [0, 5] }))).toBe('entry-not-before-exit');
    expect(errorCode(() => stateOccupancy({ ...two, to: ['b'] }))).toBe('length');
    expect(errorCode(() => stateOccupancy(two, { states: ['a'] }))).toBe('out-of-range');
    expect(errorCode(() => stateOccupancy(two, { horizon: 0 }))).toBe('out-of-range');
    expect(errorCode(() => stateOccupancy({ subject: [], start: [], stop: [], from: [], to: [] }))).toBe(
      'empty',
    );
  });
});
