import { describe, expect, it } from 'vitest';
import {
  kaplanMeier,
  kaplanMeierByGroup,
  medianFollowUp,
  restrictedMean,
  reverseKaplanMeier,
  riskTable,
  survivalAt,
  survivalQuantile,
} from '../../../src/statistics/survival/index.ts';
import { expectNear } from '../near.ts';
import { placebo, sixMercaptopurine } from './remission-times.ts';

describe('Kaplan-Meier, worked by hand', () => {
  // Unsorted, with ties, late entry and a censoring at the time of an event.
  const data = Object.freeze({
    time: Object.freeze([5, 3, 3, 8, 5]),
    event: Object.freeze([1, 1, 0, 0, 1]),
    entry: Object.freeze([0, 0, 0, 4, 2]),
  });

  it('counts at risk those with entry < t <= time', () => {
    const curve = kaplanMeier(data);
    expect(curve.time).toEqual([3, 5, 8]);
    expect(curve.atRisk).toEqual([4, 3, 1]);
    expect(curve.events).toEqual([1, 2, 0]);
    expect(curve.censored).toEqual([1, 0, 1]);
  });

  it('multiplies 3/4 by 1/3; Greenwood sum 1/(4 3) + 2/(3 1)', () => {
    const curve = kaplanMeier(data, { interval: 'plain' });
    expectNear(curve.survival[0], 3 / 4, 1e-15);
    expectNear(curve.survival[1], 1 / 4, 1e-15);
    expectNear(curve.standardError[0], 0.75 * Math.sqrt(1 / 12), 1e-15);
    expectNear(curve.standardError[1], 0.25 * Math.sqrt(1 / 12 + 2 / 3), 1e-15);
    expectNear(curve.upper[1], 0.25 + 1.959963984540054 * 0.25 * Math.sqrt(0.75), 1e-14);
    expect(curve.lower[1]).toBe(0);
  });

  it('does not see a row that enters at the very time of an event', () => {
    const curve = kaplanMeier({ time: [4, 9, 9], event: [1, 1, 0], entry: [0, 4, 0] });
    expect(curve.atRisk).toEqual([2, 2]);
  });

  it('lets an event happen at time 0', () => {
    const curve = kaplanMeier({ time: [0, 2, 0, 5], event: [1, 1, 0, 0] });
    expect(curve.time).toEqual([0, 2, 5]);
    expect(curve.atRisk).toEqual([4, 2, 1]);
    expect(curve.survival).toEqual([0.75, 0.375, 0.375]);
    expect(survivalAt(curve, [0])[0]).toMatchObject({ survival: 0.75, atRisk: 4 });
  });

  it('sums influences within clusters: U = (beyond t - S) / n without censoring', () => {
    // Cluster a fails at 1 and 2, cluster b lasts: at 1 U_a = -1/8, U_b = 1/8; at 2 U_a = -1/4, U_b = 1/4.
    const curve = kaplanMeier({ time: [4, 1, 3, 2], event: [1, 1, 0, 1], cluster: ['b', 'a', 'b', 'a'] });
    expect(curve.variance).toBe('infinitesimal-jackknife');
    expectNear(curve.standardError[0], Math.sqrt(2 / 64), 1e-14);
    expectNear(curve.standardError[1], Math.sqrt(2 / 16), 1e-14);
    expect(curve.standardError[3]).toBe(0);
    expect(curve.lower[3]).toBeUndefined();
  });

  it('gives a clustered restricted mean; by hand 2 x (1/4) at the horizon 3', () => {
    // Area to 3 without censoring before it: mean of min(T, 3); U = (min(T, 3) - mean) / n summed by cluster:
    // a (1 + 2 - 4.5) / 4, b (3 + 3 - 4.5) / 4.
    const curve = kaplanMeier({ time: [4, 1, 3, 2], event: [1, 1, 0, 1], cluster: ['b', 'a', 'b', 'a'] });
    const mean = restrictedMean(curve, 3);
    expectNear(mean.estimate, 2.25, 1e-15);
    expectNear(mean.standardError, Math.sqrt(2 * (1.5 / 4) ** 2), 1e-14);
    expect(() => restrictedMean({ ...curve }, 3)).toThrow('copy without its rows');
  });

  it('says when a restricted mean reaches past the follow-up', () => {
    const curve = kaplanMeier({ time: [1, 2, 3], event: [1, 0, 0] });
    expect(restrictedMean(curve, 3).extrapolated).toBe(false);
    expect(restrictedMean(curve, 5).extrapolated).toBe(true);
    expect(restrictedMean(kaplanMeier({ time: [1, 2], event: [1, 1] }), 5)).toMatchObject({
      estimate: 1.5,
      extrapolated: false,
    });
  });

  it('takes the middle of a flat stretch at the level, to the last time if no drop follows', () => {
    expect(survivalQuantile(kaplanMeier({ time: [1, 2, 6, 9], event: [1, 1, 1, 1] }), 0.5).estimate).toBe(4);
    expect(survivalQuantile(kaplanMeier({ time: [1, 2, 6, 9], event: [1, 1, 0, 0] }), 0.5).estimate).toBe(
      5.5,
    );
    expect(
      survivalQuantile(kaplanMeier({ time: [1, 2, 6, 9], event: [1, 0, 0, 0] }), 0.5).estimate,
    ).toBeUndefined();
  });

  it('keeps the order of groups asked for and leaves out a group of nobody', () => {
    const curves = kaplanMeierByGroup(
      { time: [1, 2, 3], event: [1, 1, 1], group: ['mild', 'severe', 'mild'] },
      { groups: ['severe', 'moderate', 'mild'] },
    );
    expect(curves.map(c => [c.group, c.curve.n])).toEqual([
      ['severe', 1],
      ['mild', 2],
    ]);
  });
});

describe('published worked examples', () => {
  it('Kaplan and Meier 1958, section 2: deaths at 0.8, 3.1, 5.4, 9.2 and losses at 1.0, 2.7, 7.0, 12.1', () => {
    const curve = kaplanMeier({
      time: [9.2, 1.0, 5.4, 12.1, 0.8, 2.7, 3.1, 7.0],
      event: [1, 0, 1, 0, 1, 0, 1, 0],
    });
    const atDeaths = survivalAt(curve, [0.8, 3.1, 5.4, 9.2]);
    expect(atDeaths.map(row => row.atRisk)).toEqual([8, 5, 4, 2]);
    for (const [i, s] of [0.875, 0.7, 0.525, 0.2625].entries()) expectNear(atDeaths[i]?.survival, s, 1e-14);
  });

  it('remission times on 6-mercaptopurine (Freireich et al., Blood 1963;21:699): curve, errors and medians as printed in textbooks', () => {
    // Printed to three and four digits, e.g. Klein and Moeschberger, Survival Analysis, 2nd ed., table 4.1.
    const curve = kaplanMeier(sixMercaptopurine);
    const rows = survivalAt(curve, [6, 7, 10, 13, 16, 22, 23]);
    expect(rows.map(row => row.atRisk)).toEqual([21, 17, 15, 12, 11, 7, 6]);
    const printed = ['0.857', '0.807', '0.753', '0.690', '0.627', '0.538', '0.448'];
    expect(rows.map(row => row.survival.toFixed(3))).toEqual(printed);
    const errors = ['0.0764', '0.0869', '0.0963', '0.1068', '0.1141', '0.1282', '0.1346'];
    expect(rows.map(row => row.standardError?.toFixed(4))).toEqual(errors);
    expect(survivalQuantile(curve, 0.5).estimate).toBe(23);
    expect(survivalQuantile(kaplanMeier(placebo), 0.5).estimate).toBe(8);
  });
});

describe('follow-up and numbers at risk', () => {
  it('turns events and censorings round', () => {
    const curve = reverseKaplanMeier({ time: [4, 2, 4, 7], event: [0, 1, 1, 0] });
    expect(curve.atRisk).toEqual([4, 3, 1]);
    expectNear(curve.survival[1], 2 / 3, 1e-15);
    expect(medianFollowUp({ time: [4, 2, 4, 7], event: [0, 1, 1, 0] }).estimate).toBe(7);
    expect(medianFollowUp({ time: [4, 2], event: [1, 1] }).estimate).toBeUndefined();
  });

  it('adds up to all rows at every tick, at risk just before it', () => {
    const data = {
      time: [6, 6, 9, 12, 4],
      event: [1, 0, 1, 0, 0],
      entry: [0, 0, 5, 6, 0],
      group: ['a', 'b', 'a', 'a', 'b'],
    };
    const tables = riskTable(data, [0, 6, 7, 20]);
    expect(tables.map(t => t.group)).toEqual(['a', 'b']);
    expect(tables[0]?.rows).toEqual([
      { time: 0, atRisk: 1, events: 0, censored: 0, notYetEntered: 2 },
      { time: 6, atRisk: 2, events: 0, censored: 0, notYetEntered: 1 },
      { time: 7, atRisk: 2, events: 1, censored: 0, notYetEntered: 0 },
      { time: 20, atRisk: 0, events: 2, censored: 1, notYetEntered: 0 },
    ]);
    for (const { n, rows } of riskTable({ ...data, weight: [1, 2, 1, 3, 1] }, [0, 6, 7, 20])) {
      for (const row of rows) expect(row.atRisk + row.events + row.censored + row.notYetEntered).toBe(n);
    }
  });

  it('reads the same numbers at risk off a curve, under late entry as well', () => {
    const data = { time: [6, 6, 9, 12, 4], event: [1, 0, 1, 0, 0], entry: [0, 0, 5, 6, 0] };
    const ticks = [0, 2, 5, 5.5, 6, 7, 10, 12, 13];
    const fromCurve = survivalAt(kaplanMeier(data), ticks).map(row => row.atRisk);
    expect(fromCurve).toEqual(riskTable(data, ticks)[0]?.rows.map(row => row.atRisk));
  });

  it('marks values beyond the follow-up', () => {
    const curve = kaplanMeier({ time: [2, 5], event: [1, 0] });
    expect(survivalAt(curve, [1, 5, 6]).map(row => row.beyondFollowUp)).toEqual([false, false, true]);
  });
});
