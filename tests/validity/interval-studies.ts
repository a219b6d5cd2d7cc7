import { acceleratedFailureModel, type RandomStream, turnbullBootstrap } from '../../src/statistics/index.ts';
import { type Feet, feetOfInfants, sharedUniforms, weibullSurvival, weibullTime } from './feet.ts';
import { holds, type Study } from './study.ts';

const day = 63;

interface Visits extends Feet {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/**
 * Corrections known to lie between two visits of the infant, which are 14 days apart give or take 3; follow-up ends
 * after 4 to 12 visits. A hazard ratio acts in arm 1.
 */
function correctionsBetweenVisits(random: RandomStream, count: number, ratio: number): Visits {
  const feet = feetOfInfants(random, count);
  const uniforms = sharedUniforms(random, feet);
  const visits = Array.from({ length: feet.infants }, () => {
    let at = 0;
    return Array.from({ length: 4 + random.below(9) }, () => (at += 11 + random.below(7)));
  });
  const lower = new Float64Array(count);
  const upper = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const corrected = weibullTime(uniforms[i] as number, feet.arm[i] === 1 ? ratio : 1);
    const seen = visits[feet.infant[i] as number] ?? [];
    lower[i] = seen.findLast(t => t < corrected) ?? 0;
    upper[i] = seen.find(t => t >= corrected) ?? Number.POSITIVE_INFINITY;
  }
  return { ...feet, lower, upper };
}

const timeRatio = Math.exp(-0.3);

export const intervalStudies: readonly Study[] = [
  {
    estimator: 'Turnbull with bootstrap limits, 200 resamples',
    setting: `survival at day ${day}, corrections known between visits`,
    measure: 'coverage',
    advice:
      'draw infants (`cluster`); if the shape of the curve is known, an accelerated failure model is tighter',
    dataSets: 200,
    judge: (random, feet) => {
      const { lower, upper, infant } = correctionsBetweenVisits(random, feet, 1);
      const seed = random.below(2 ** 31);
      const at = (cluster: Int32Array | undefined) =>
        turnbullBootstrap({ lower, upper, ...(cluster ? { cluster } : {}) }, [day], { resamples: 200, seed })
          .times[0];
      const truth = weibullSurvival(day);
      return { 'feet drawn': holds(truth, at(undefined)), 'infants drawn': holds(truth, at(infant)) };
    },
  },
  {
    estimator: 'Weibull accelerated failure coefficient',
    setting: 'two arms of infants, log time ratio -0.3, corrections known between visits',
    measure: 'coverage',
    advice: 'give `cluster`; with few infants even that is a little short',
    dataSets: 1000,
    judge: (random, feet) => {
      const { lower, upper, arm, infant } = correctionsBetweenVisits(random, feet, timeRatio ** -1.5);
      const interval = (cluster: Int32Array | undefined) =>
        acceleratedFailureModel({ lower, upper, cluster }, { arm }, { distribution: 'weibull' }).terms[1];
      return {
        'inverse information': holds(timeRatio, interval(undefined)),
        'clustered by infant': holds(timeRatio, interval(infant)),
      };
    },
  },
];
