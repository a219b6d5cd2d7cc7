import { describe, expect, it } from 'vitest';
import {
  cumulativeIncidence,
  kaplanMeier,
  kaplanMeierByGroup,
  nelsonAalen,
  restrictedMean,
  restrictedMeanDifference,
  survivalQuantile,
} from '../../src/statistics/index.ts';

/** Three rows of one infant: how infants differ is not known, so no error can be given. */
const OF_ONE = { time: [70, 84, 91], event: [1, 1, 0], cluster: ['I1', 'I1', 'I1'] } as const;
const OF_TWO = { ...OF_ONE, cluster: ['I1', 'I1', 'I2'] } as const;
const none = [undefined, undefined, undefined];

describe('rows that are all of one cluster', () => {
  it('have a curve without errors and limits', () => {
    const curve = kaplanMeier(OF_ONE);
    expect(curve.survival).toEqual(kaplanMeier(OF_TWO).survival);
    expect([curve.standardError, curve.lower, curve.upper]).toEqual([none, none, none]);
    expect(survivalQuantile(curve, 0.5)).toEqual({ estimate: 84, lower: undefined, upper: undefined });
  });

  it('have so in one group of several, by the clusters of that group', () => {
    const [alone, both] = kaplanMeierByGroup({
      time: [...OF_ONE.time, ...OF_TWO.time],
      event: [...OF_ONE.event, ...OF_TWO.event],
      cluster: [...OF_ONE.cluster, ...OF_TWO.cluster],
      group: ['a', 'a', 'a', 'b', 'b', 'b'],
    });
    expect(alone?.curve.standardError).toEqual(none);
    expect(both?.curve.standardError[0]).toBeGreaterThan(0);
  });

  it('have a cumulative hazard, an incidence and a restricted mean without errors', () => {
    const hazard = nelsonAalen(OF_ONE);
    expect([hazard.standardError, hazard.lower, hazard.upper]).toEqual([none, none, none]);
    const { time, event: cause, cluster } = OF_ONE;
    const incidence = cumulativeIncidence({ time, cause, cluster }).causes[0];
    expect([incidence?.standardError, incidence?.lower]).toEqual([none, none]);
    expect(restrictedMean(kaplanMeier(OF_ONE), 90)).toMatchObject({
      standardError: undefined,
      lower: undefined,
      upper: undefined,
    });
    expect(restrictedMeanDifference(kaplanMeier(OF_ONE), kaplanMeier(OF_TWO), 90)).toMatchObject({
      estimate: 0,
      standardError: undefined,
      pValue: undefined,
      ratio: { estimate: 1, lower: undefined },
    });
  });

  it('have errors where there are two clusters, and where none are told of', () => {
    expect(kaplanMeier(OF_TWO).standardError[0]).toBeGreaterThan(0);
    const { time, event } = OF_ONE;
    expect(nelsonAalen({ time, event }).standardError[0]).toBeGreaterThan(0);
  });
});
