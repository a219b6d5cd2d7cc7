import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { attack, protectFindings } from '../../../src/reports/disclosure/index.ts';
import { findingsJson, type FindingsInput } from '../../../src/reports/findings-document.ts';
import { countMeasure, curveOf, findingOf, inputOf, tableOf } from './findings.ts';

const leaksOf = (published: FindingsInput, truth: FindingsInput) =>
  attack([{ path: 'findings.json', text: findingsJson(published) }], truth);

describe('small counts', () => {
  it('stand under their name, and 0 is shown', () => {
    const input = inputOf([
      findingOf({
        measures: [countMeasure('a', 3, 'x'), countMeasure('b', 0, 'y'), countMeasure('c', 5, 'z')],
      }),
    ]);
    const { measures } = protectFindings(input).findings[0] ?? findingOf({});
    expect(measures.map(({ estimate, state }) => estimate ?? state)).toEqual(['fewer than 5', 0, 5]);
  });

  it('take with them the share, the rate and the median that rest on them', () => {
    const of = { label: 'x', group: 'x', n: 40, infants: 38, events: 3 } as const;
    const input = inputOf([
      findingOf({
        measures: [
          {
            ...of,
            key: 'share.x',
            kind: 'proportion',
            unit: 'of 1',
            estimate: 3 / 40,
            lower: 0.02,
            upper: 0.2,
          },
          { ...of, key: 'rate.x', kind: 'rate', unit: 'per 100 foot-weeks', estimate: 1.5 },
          { ...of, key: 'median.x', kind: 'time', unit: 'weeks', estimate: 9 },
          { key: 'ratio.x', label: 'x', group: 'x', kind: 'ratio', unit: 'times', estimate: 2.1 },
        ],
      }),
    ]);
    const { measures } = protectFindings(input).findings[0] ?? findingOf({});
    for (const { estimate, lower, upper, state } of measures) {
      expect({ estimate, lower, upper, state }).toEqual({ state: 'withheld' });
    }
    expect(measures[0]?.events).toBe('fewer than 5');
  });

  it('are not given away by the rest of a share', () => {
    const table = {
      ...tableOf({}),
      columns: [
        { key: 'line', label: 'Line', kind: 'text' },
        { key: 'done', label: 'Done', kind: 'percent of n' },
      ],
      rows: [{ line: 'Teach-back', done: { count: 58, of: 60 } }],
    } as const;
    const shown = protectFindings(inputOf([findingOf({ tables: [table] })]));
    const cell = shown.findings[0]?.tables[0]?.rows[0]?.done;
    expect(cell === 'withheld' || cell === 58).toBe(true);
  });

  it('leave everything untouched where there are none', () => {
    const input = inputOf([
      findingOf({
        statement: 'Of 60 feet, 12/60 (20 %) were corrected.',
        measures: [countMeasure('a', 12, 'x'), countMeasure('b', 48, 'x')],
        tables: [tableOf({ first: [5, 6, 7], second: [0, 20, 30] })],
      }),
    ]);
    expect(protectFindings(input).findings).toEqual(input.findings);
  });
});

describe('sentences', () => {
  const statement = (text: string): string | undefined =>
    protectFindings(inputOf([findingOf({ statement: text, measures: [countMeasure('relapses', 3, 'x')] })]))
      .findings[0]?.statement;

  it('name a small share, and keep what is no result', () => {
    expect(statement('By week 3, the foot relapsed in 3/197 (2 %) feet.')).toBe(
      'By week 3, the foot relapsed in fewer than 5 of 197 feet.',
    );
    expect(statement('After the step from 24 to 15 hours 2 feet relapsed.')).toBe(
      'After the step from 24 to 15 hours fewer than 5 feet relapsed.',
    );
  });

  it('go where a hidden number cannot be named', () => {
    expect(statement('The count was 3. All else was well.')).toBe('All else was well.');
    expect(statement('The count was 3.')).toMatch(/too small to be published/);
  });
});

describe('curves', () => {
  const protectedCurve = (events: readonly number[], n: number, ticks: readonly number[]) => {
    const input = inputOf([findingOf({ curves: [curveOf(events, n, ticks)] })]);
    const shown = protectFindings(input);
    expect(leaksOf(shown, input)).toEqual([]);
    return shown.findings[0]?.curves[0];
  };

  it('have steps of at least five events', () => {
    const curve = protectedCurve([0, 1, 2, 3, 1, 7, 2, 2, 2, 0], 100, [0, 2, 6, 9]);
    const jumps = (curve?.estimate ?? [])
      .slice(1)
      .map((height, i) => Math.round((height - (curve?.estimate[i] ?? 0)) * 100));
    expect(jumps.filter(jump => jump !== 0).every(jump => jump >= 5)).toBe(true);
    expect(jumps.reduce((sum, jump) => sum + jump, 0)).toBe(20);
    expect(curve).not.toHaveProperty('steps');
  });

  it('end where fewer than five are at risk', () => {
    const curve = protectedCurve([0, 6, 6, 6, 1, 1], 22, [0, 2, 4]);
    expect(Math.max(...(curve?.time ?? []))).toBeLessThanOrEqual(3);
  });

  it('are not drawn where there are too few events in all, and the finding says so', () => {
    const shown = protectFindings(inputOf([findingOf({ curves: [curveOf([0, 1, 0, 2, 0], 60, [0, 2])] })]));
    expect(shown.findings[0]?.curves).toEqual([]);
    expect(shown.findings[0]?.cautions.join(' ')).toMatch(/Not drawn.*Feet corrected \(all\)/);
  });

  it('stay flat where nothing happened', () => {
    expect(protectedCurve([0, 0, 0], 60, [0, 2])?.estimate).toEqual([0, 0]);
  });
});

describe('any table', () => {
  it('gives the attack nothing once protected', () => {
    const counts = fc.array(fc.array(fc.oneof(fc.nat(12), fc.nat(90)), { minLength: 3, maxLength: 3 }), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(counts, rows => {
        const table = tableOf(Object.fromEntries(rows.map((row, i) => [`line ${i}`, row])));
        const input = inputOf([findingOf({ tables: [table] })]);
        expect(leaksOf(protectFindings(input), input)).toEqual([]);
      }),
      { seed: 20260101, numRuns: 150 },
    );
  });

  it('of large counts loses no cell', () => {
    const counts = fc.array(fc.array(fc.integer({ min: 5, max: 500 }), { minLength: 3, maxLength: 3 }), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(counts, rows => {
        const table = tableOf(Object.fromEntries(rows.map((row, i) => [`line ${i}`, row])));
        const input = inputOf([findingOf({ tables: [table] })]);
        expect(protectFindings(input).findings[0]?.tables).toEqual([table]);
      }),
      { seed: 20260101, numRuns: 100 },
    );
  });
});

describe('a plan that turns it off', () => {
  it('hides nothing', () => {
    const input = inputOf([findingOf({ measures: [countMeasure('a', 3, 'x')] })]);
    const off = {
      ...input,
      plan: { ...input.plan, disclosure: { ...input.plan.disclosure, suppressBelow: 0 } },
    };
    expect(protectFindings(off).findings).toEqual(input.findings);
    expect(leaksOf(off, off)).toEqual([]);
  });
});
