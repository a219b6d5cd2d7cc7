import {
  bootstrap,
  coxModel,
  kaplanMeier,
  logRankTest,
  permutationTest,
  resampledQuantile,
  restrictedMean,
  restrictedMeanDifference,
  survivalAt,
  survivalQuantile,
} from '../../src/statistics/index.ts';
import { type Corrections, corrections, weibullSurvival } from './feet.ts';
import { holds, holdsTime, type Study } from './study.ts';

const day = 63;
const horizon = 84;
const hazardRatio = Math.exp(0.5);
const medianDay = 70 * Math.log(2) ** (1 / 1.5);

/** Area under the survival of times rounded up to whole days. */
const meanToHorizon = Array.from({ length: horizon }, (_, d) => weibullSurvival(d)).reduce(
  (a, b) => a + b,
  0,
);

const plainCurve = ({ time, event }: Corrections) => kaplanMeier({ time, event });
const clusteredCurve = ({ time, event, infant }: Corrections) =>
  kaplanMeier({ time, event, cluster: infant });

function ofArm(data: Corrections, arm: number): Corrections {
  const keep = Array.from(data.arm.keys()).filter(i => data.arm[i] === arm);
  return {
    ...data,
    time: Float64Array.from(keep, i => data.time[i] as number),
    event: Uint8Array.from(keep, i => data.event[i] as number),
    infant: Int32Array.from(keep, i => data.infant[i] as number),
  };
}

export const survivalStudies: readonly Study[] = [
  {
    estimator: 'Kaplan-Meier at a day (log-log limits)',
    setting: `survival at day ${day}; Weibull times`,
    measure: 'coverage',
    advice: 'give `cluster`',
    judge: (random, feet) => {
      const data = corrections(random, feet);
      const truth = weibullSurvival(day);
      return {
        Greenwood: holds(truth, survivalAt(plainCurve(data), [day])[0]),
        'clustered by infant': holds(truth, survivalAt(clusteredCurve(data), [day])[0]),
      };
    },
  },
  {
    estimator: 'median of Kaplan-Meier (log-log limits)',
    setting: 'median time; Weibull times in whole days',
    measure: 'coverage',
    advice: 'give `cluster`',
    judge: (random, feet) => {
      const data = corrections(random, feet);
      const truth = Math.ceil(medianDay);
      return {
        Greenwood: holdsTime(truth, survivalQuantile(plainCurve(data), 0.5)),
        'clustered by infant': holdsTime(truth, survivalQuantile(clusteredCurve(data), 0.5)),
      };
    },
  },
  {
    estimator: 'cluster bootstrap of the median, 999 resamples',
    setting: 'median time; Weibull times in whole days',
    measure: 'coverage',
    advice:
      'draw infants, not feet; where leaving out an infant never changes the median there is no BCa, and the percentile limits serve',
    dataSets: 500,
    judge: (random, feet) => {
      const { time, event, infant } = corrections(random, feet);
      const truth = Math.ceil(medianDay);
      const median = resampledQuantile({ time, event }, 0.5);
      const seed = random.below(2 ** 31);
      const drawn = (cluster: Int32Array | undefined) =>
        bootstrap({ n: time.length, cluster }, (_, counts) => median(counts), { resamples: 999, seed });
      const byInfant = drawn(infant);
      return {
        'BCa, feet drawn': holds(truth, drawn(undefined).bca),
        'BCa, infants drawn': holds(truth, byInfant.bca),
        'percentile, infants drawn': holds(truth, byInfant.percentile),
      };
    },
  },
  {
    estimator: 'restricted mean',
    setting: `mean to day ${horizon}; Weibull times`,
    measure: 'coverage',
    advice: 'give `cluster` to the curve',
    judge: (random, feet) => {
      const data = corrections(random, feet);
      return {
        Greenwood: holds(meanToHorizon, restrictedMean(plainCurve(data), horizon)),
        'clustered by infant': holds(meanToHorizon, restrictedMean(clusteredCurve(data), horizon)),
      };
    },
  },
  {
    estimator: 'difference of restricted means',
    setting: `two arms of infants without a difference, to day ${horizon}`,
    measure: 'coverage',
    advice: 'give `cluster` to both curves',
    judge: (random, feet) => {
      const data = corrections(random, feet);
      const [first, second] = [ofArm(data, 0), ofArm(data, 1)];
      return {
        Greenwood: holds(0, restrictedMeanDifference(plainCurve(first), plainCurve(second), horizon)),
        'clustered by infant': holds(
          0,
          restrictedMeanDifference(clusteredCurve(first), clusteredCurve(second), horizon),
        ),
      };
    },
  },
  {
    estimator: 'two arms compared',
    setting: 'two arms of infants without a difference',
    measure: 'size',
    advice:
      "with some 100 infants or more the Cox model's robust score or clustered Wald test; with fewer permute the arms between infants (`permutationTest` with `cluster`)",
    judge: (random, feet) => {
      const { time, event, arm, infant } = corrections(random, feet);
      const model = coxModel({ time, event, cluster: infant, covariates: { arm } });
      const score = model.robustScoreTest;
      const permuted = permutationTest(
        { group: arm, cluster: infant },
        group => logRankTest({ time, event, group }).statistic,
        { permutations: 199, seed: random.below(2 ** 31), alternative: 'greater' },
      );
      return {
        'log-rank': logRankTest({ time, event, group: arm }).pValue < 0.05,
        'Cox robust score test': score && score.pValue < 0.05,
        'Cox clustered Wald test': model.waldTest && model.waldTest.pValue < 0.05,
        'log-rank, arms of infants permuted': permuted.pValue <= 0.05,
      };
    },
  },
  {
    estimator: 'Cox coefficient (Efron)',
    setting: 'two arms of infants, log hazard ratio 0.5',
    measure: 'coverage',
    advice: 'give `cluster`; with few infants even that is a little short',
    judge: (random, feet) => {
      const { time, event, arm, infant } = corrections(random, feet, hazardRatio);
      const plain = coxModel({ time, event, covariates: { arm } }).terms[0];
      const clustered = coxModel({ time, event, cluster: infant, covariates: { arm } }).terms[0];
      return {
        'inverse information': holds(hazardRatio, plain),
        'clustered by infant': holds(hazardRatio, clustered),
      };
    },
  },
];
