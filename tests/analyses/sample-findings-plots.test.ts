// What the findings of the sample hold to be drawn, beside curves, against R: shares by week, mean counts, how checkups date
// corrections, and the residuals and fitted lines of the model checks.
import { beforeAll, describe, expect, it } from 'vitest';
import type { Analysis, Finding } from '../../src/analyses/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import {
  expectAll,
  findingNamed,
  held,
  isSame,
  listAt,
  numbersAt,
  sampleAnalyses,
  type Value,
} from './sample-findings.ts';

let analyses: readonly Analysis[] = [];

beforeAll(async () => {
  analyses = await sampleAnalyses(defaultPlan());
}, 120_000);

const finding = (key: string): Finding => findingNamed(analyses, key);

const complement = (value: Value): Value => (typeof value === 'number' ? 1 - value : null);

describe('what is drawn of the sample, against an independent recomputation in R', () => {
  it('has the same occupancy with its errors, state by state and week by week', () => {
    for (const { group, share, standardError } of finding('phase-occupancy').occupancy ?? []) {
      for (const [state, weeks] of share.entries()) {
        const column = (name: string): readonly Value[] =>
          (held('phase-occupancy', 'occupancy', group, name) as readonly (readonly Value[])[]).map(
            row => row[state] ?? null,
          );
        expectAll(weeks, column('share').slice(0, weeks.length), `${group}, ${state}`);
        const errors = standardError[state] ?? [];
        expectAll(
          errors.map(error => error ?? 0),
          column('standardError').slice(0, errors.length),
          `${group}, ${state}, errors`,
        );
      }
    }
  });

  it.each(['relapse-after-step-down', 'skin-safety'])('has the same mean counts of %s at each step', key => {
    for (const { group, time, mean, standardError } of finding(key).meanCounts ?? []) {
      const at = (field: string): readonly number[] => numbersAt(key, 'meanCounts', group, field);
      for (const [place, week] of time.entries()) {
        const from = at('time').findLastIndex(found => found <= week + 1e-9);
        const label = `${group}, week ${week}`;
        expectAll([mean[place]], [at('mean')[from] ?? 0], label);
        expectAll([standardError[place]], [at('standardError')[from] ?? 0], `${label}, error`);
      }
    }
  });

  it('has the same shares as dated by checkups, between them, and by the model for the time between', () => {
    const of = 'time-to-correction';
    expect(finding(of).plots).toHaveLength(3);
    for (const { key, series } of finding(of).plots ?? []) {
      const band = key.replace('dating.', '');
      const [left, right, mass] = ['left', 'right', 'mass'].map(field =>
        numbersAt(of, 'dating', band, field),
      );
      const massTo = (ends: readonly number[] | undefined, day: number): number =>
        (mass ?? []).reduce(
          (sum, value, place) => ((ends?.[place] ?? day + 1) <= day ? sum + value : sum),
          0,
        );
      for (const { key: name, x, y, lower = [], upper = [] } of series) {
        if (name.startsWith('weibull')) {
          expectAll(y, listAt(of, 'dating', band, 'weibull').slice(0, y.length), name);
        } else if (name.startsWith('between')) {
          const days = x.map(week => Math.round(7 * week));
          expectAll(
            y,
            days.map(day => massTo(right, day)),
            name,
          );
          expectAll(
            lower,
            days.map(day => massTo(right, day)),
            `${name}, at least`,
          );
          expectAll(
            upper,
            days.map(day => massTo(left, day)),
            `${name}, at most`,
          );
        } else {
          // The visit-dated curve, drawn upwards.
          const at = (field: string) => listAt(of, 'curves', `visit-dated.${band}`, field);
          const from = x.map(week => at('time').findLastIndex(time => Number(time) <= week + 1e-9));
          const values = (field: string) =>
            from.map(place => (place < 0 ? 0 : complement(at(field)[place] ?? null)));
          expectAll(y, values('estimate'), name);
          expectAll(lower, values('upper'), `${name}, lower`);
          expectAll(upper, values('lower'), `${name}, upper`);
        }
      }
    }
  });

  it('has the same residuals and fitted lines', () => {
    const of = 'duration-model-checks';
    expect(finding(of).plots).toHaveLength(12);
    for (const { key, series } of finding(of).plots ?? []) {
      const [kind = '', first = '', ...rest] = key.split('.');
      for (const { key: name, x, y, lower = [], upper = [] } of series) {
        const label = `${key}, ${name}`;
        if (kind === 'schoenfeld') {
          const expected = (field: string) => listAt(of, 'schoenfeld', rest.join('.'), field);
          const smooth = name === 'smooth';
          expectAll(x, expected(smooth ? 'smoothX' : 'x'), label);
          expectAll(y, expected(smooth ? 'smooth' : 'y'), label);
          expectAll(lower, smooth ? expected('lower') : [], label);
          expectAll(upper, smooth ? expected('upper') : [], label);
        } else if (kind === 'cox-snell') {
          const expected = (field: string) => listAt(of, 'coxSnell', first, field);
          const places = x.map(value => expected('x').findIndex(found => isSame(value, found)));
          for (const [field, own] of Object.entries({ x, y, lower, upper })) {
            const values = places.map(place => expected(field)[place] ?? null);
            expectAll(own, values, `${label}, ${field}`);
          }
        } else if (name.startsWith('fitted')) {
          // From week 1: at week 0 all are in therapy.
          for (const [field, own] of Object.entries({ y, lower, upper })) {
            const values = listAt(of, 'fitted', first, name.replace('fitted.', ''), field);
            expectAll(own.slice(1), values.slice(0, own.length - 1), `${label}, ${field}`);
          }
        }
      }
    }
  });
});
