import {
  cumulativeIncidence,
  grayTest,
  incidenceAt,
  meanCumulativeCount,
  type RandomStream,
  subdistributionHazardModel,
} from '../../src/statistics/index.ts';
import { type Feet, feetOfInfants, sharedUniforms, uniformsOfInfants } from './feet.ts';
import { holds, type Study } from './study.ts';

const share = 0.6;
const day = 63;
const coefficient = 0.5;

/** Incidence of cause 1 by a day: its share times an exponential distribution with a mean of 50 days. */
const incidence = (t: number): number => share * (1 - Math.exp(-t / 50));

interface Endings extends Feet {
  readonly time: Float64Array;
  readonly cause: Uint8Array;
}

/**
 * Times to the first of two causes, of which cause 1 follows a proportional subdistribution hazard: its incidence is
 * 1 - (1 - incidence)^ratio with `ratio` in arm 1. Cause 2 is exponential, and so is the censoring of infants.
 */
function endings(random: RandomStream, count: number, ratio: number): Endings {
  const feet = feetOfInfants(random, count);
  const [which, when] = [sharedUniforms(random, feet), sharedUniforms(random, feet)];
  const ends = uniformsOfInfants(random, feet);
  const time = new Float64Array(count);
  const cause = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const power = feet.arm[i] === 1 ? ratio : 1;
    const everFirst = 1 - (1 - share) ** power;
    const first = (which[i] as number) < everFirst;
    const u = when[i] as number;
    const ended = first
      ? -50 * Math.log(1 - (1 - (1 - u * everFirst) ** (1 / power)) / share)
      : -60 * Math.log(1 - u);
    const censored = -150 * Math.log(1 - (ends[i] as number));
    time[i] = Math.ceil(Math.min(ended, censored));
    cause[i] = ended > censored ? 0 : first ? 1 : 2;
  }
  return { ...feet, time, cause };
}

/** Skin events over a year with a gamma frailty (mean 1, variance 1) of the infant, at 1.2 events a year. */
function skinEvents(
  random: RandomStream,
  count: number,
): { subject: number[]; time: number[]; event: number[]; end: number[]; cluster: number[] } {
  const feet = feetOfInfants(random, count);
  const frailties = Float64Array.from({ length: feet.infants }, () => random.exponential());
  const rows = { subject: [], time: [], event: [], end: [], cluster: [] } as Record<
    'subject' | 'time' | 'event' | 'end' | 'cluster',
    number[]
  >;
  const add = (foot: number, time: number, event: number, end: number): void => {
    rows.subject.push(foot);
    rows.time.push(time);
    rows.event.push(event);
    rows.end.push(end);
    rows.cluster.push(feet.infant[foot] as number);
  };
  for (let foot = 0; foot < count; foot++) {
    const rate = (1.2 * (frailties[feet.infant[foot] as number] as number)) / 365;
    const end = 180 + random.below(186);
    let t = random.exponential() / rate;
    for (; t < end; t += random.exponential() / rate) add(foot, t, 1, end);
    add(foot, end, 0, end);
  }
  return rows;
}

export const competingStudies: readonly Study[] = [
  {
    estimator: 'Aalen-Johansen incidence (log-log limits)',
    setting: `incidence of one of two causes by day ${day}`,
    measure: 'coverage',
    advice: 'give `cluster`',
    judge: (random, feet) => {
      const { time, cause, infant } = endings(random, feet, 1);
      const at = (cluster: Int32Array | undefined) => {
        const curve = cumulativeIncidence({ time, cause, cluster }).causes.find(c => c.cause === 1);
        return curve && holds(incidence(day), incidenceAt(curve, [day])[0]);
      };
      return { 'independent feet': at(undefined), 'clustered by infant': at(infant) };
    },
  },
  {
    estimator: "Gray's test",
    setting: 'two arms of infants without a difference',
    measure: 'size',
    advice: 'use the Fine-Gray model with `cluster`',
    judge: (random, feet) => {
      const { time, cause, arm, infant } = endings(random, feet, 1);
      const model = subdistributionHazardModel(
        { time, cause, cluster: infant, covariates: { arm } },
        { cause: 1 },
      );
      return {
        'independent feet': grayTest({ time, cause, group: arm }, { cause: 1 }).pValue < 0.05,
        'Fine-Gray, clustered Wald test': model.waldTest && model.waldTest.pValue < 0.05,
      };
    },
  },
  {
    estimator: 'Fine-Gray coefficient',
    setting: `two arms of infants, log subdistribution hazard ratio ${coefficient}`,
    measure: 'coverage',
    advice: 'give `cluster`; with few infants even that is a little short',
    judge: (random, feet) => {
      const { time, cause, arm, infant } = endings(random, feet, Math.exp(coefficient));
      const interval = (cluster: Int32Array | undefined) =>
        subdistributionHazardModel({ time, cause, cluster, covariates: { arm } }, { cause: 1 }).terms[0];
      return {
        'independent feet': holds(Math.exp(coefficient), interval(undefined)),
        'clustered by infant': holds(Math.exp(coefficient), interval(infant)),
      };
    },
  },
  {
    estimator: 'mean cumulative count (log limits)',
    setting: 'mean count at day 180; Poisson events with a frailty of the infant',
    measure: 'coverage',
    advice: 'give `cluster`',
    judge: (random, feet) => {
      const { cluster, ...data } = skinEvents(random, feet);
      const truth = (1.2 * 180) / 365;
      const at = (options: object) => {
        const curve = meanCumulativeCount(data, options);
        const k = curve.time.findLastIndex(t => t <= 180);
        return holds(truth, { lower: curve.lower[k], upper: curve.upper[k] });
      };
      return { 'independent feet': at({}), 'clustered by infant': at({ cluster }) };
    },
  },
];
