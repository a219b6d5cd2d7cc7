import { describe, expect, it } from 'vitest';
import { analyseExport } from '../../src/analyses/index.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import { type HandMadeFoot, PAST, planWith, rowsOf, SHORT } from '../cohort/hand-made.ts';
import { CUT_OFF_DAY, EIGHT_FEET } from './eight-feet.ts';
import { findingOf, testOf, unprintable } from './looking.ts';

function answer(feet: readonly HandMadeFoot[]) {
  return analyseExport(recordsFromRows(rowsOf(feet, CUT_OFF_DAY)), planWith());
}

const uncorrected = (id: string, position: number): HandMadeFoot => {
  const flexibility = position > 4 ? SHORT : PAST;
  return {
    id,
    seen: [
      [0, position, flexibility],
      [42, position, flexibility],
    ],
  };
};
const corrected = (id: string, position: number): HandMadeFoot => ({
  id,
  seen: [
    [0, position, position > 4 ? SHORT : PAST],
    [14, 2, PAST],
  ],
});

const COHORTS: Readonly<Record<string, readonly HandMadeFoot[]>> = {
  'no feet': [],
  'one foot on its first day': [{ id: 'a', seen: [[0, 3, PAST]], end: [0, 'moved away'] }],
  'no band known': [{ id: 'a' }, { id: 'b' }],
  'one band': EIGHT_FEET.filter(({ id }) => id.startsWith('m')),
  'nobody corrected': [uncorrected('a', 4.5), uncorrected('b', 4.5), uncorrected('c', 3)],
  'all corrected at the first checkup': [corrected('a', 4.5), corrected('b', 3), corrected('c', 3)],
  'one infant': EIGHT_FEET.slice(0, 2).map((foot, place) => ({
    ...foot,
    infant: 'only',
    side: place === 0 ? ('left' as const) : ('right' as const),
  })),
};

describe('degenerate cohorts', () => {
  for (const [name, feet] of Object.entries(COHORTS)) {
    it(`are answered without NaN, infinity or null: ${name}`, () => {
      const analyses = answer(feet);
      expect(unprintable(analyses)).toEqual([]);
      for (const { finding } of analyses) {
        expect(finding.statement).toMatch(/^[A-Z0-9].*\.$/);
        expect(finding.statement).not.toMatch(/undefined|NaN|Infinity/);
        // A measure without an estimate names the reason.
        const nameless = finding.measures.filter(
          ({ estimate, state }) => (estimate === undefined) === (state === undefined),
        );
        expect(nameless.map(({ key }) => key)).toEqual([]);
        const silent = (finding.effects ?? []).filter(
          ({ estimate, state }) => (estimate === undefined) === (state === undefined),
        );
        expect(silent.map(({ key }) => key)).toEqual([]);
      }
    });
  }

  it('say what is lacking', () => {
    const statement = (name: string, key: string) =>
      findingOf(answer(COHORTS[name] ?? []), key).statement.replaceAll(/[\u202F\u00A0]/g, ' ');
    expect(statement('no feet', 'time-to-correction')).toBe(
      'No foot with a severity band was followed, so time to correction cannot be given.',
    );
    expect(statement('no feet', 'sensitivity')).toBe('No episode was accepted.');
    expect(statement('no feet', 'assessor-agreement')).toBe(
      'No foot was assessed by two assessors on one day.',
    );
    expect(statement('no feet', 'feet-like-this-one')).toBe(
      'No severity band has 10 feet, so nothing is said of what became of feet like this one.',
    );
    expect(statement('nobody corrected', 'time-to-correction')).toBe(
      'Median weeks until a foot was seen corrected: not reached in mild feet and not reached in severe feet. By week 8, 0 % of mild feet and 0 % of severe feet had been seen corrected.',
    );
    expect(statement('all corrected at the first checkup', 'time-to-correction')).toBe(
      'Median weeks until a foot was seen corrected: mild feet 2.0 and severe feet 2.0. By week 8, 100 % of mild feet and 100 % of severe feet had been seen corrected. Since feet straighten between checkups, 100 % of mild feet and 100 % of severe feet were straight by then (interval-censored estimate, other ends censored).',
    );
    expect(statement('one band', 'sensitivity')).toBe(
      'A trend across bands cannot be told, nor can it under any alternative. The share that moves most is lapsed by week 8: from 0 % to 100 % with missing wear as not worn.',
    );
  });

  it('name why a trend cannot be tested', () => {
    const state = (name: string) =>
      testOf(findingOf(answer(COHORTS[name] ?? []), 'time-to-correction'), 'trend').state;
    expect(state('no feet')).toBe('fewer than two bands');
    expect(state('one band')).toBe('fewer than two bands');
    expect(state('nobody corrected')).toBe('no corrections');
  });

  it('take the two feet of a single infant as independent, and say so', () => {
    const finding = findingOf(answer(COHORTS['one infant'] ?? []), 'time-to-correction');
    expect(testOf(finding, 'trend').method).toContain('feet as independent');
    expect(testOf(finding, 'trend').pValue).toBeDefined();
  });
});
