import {
  bootstrap,
  cohensKappa,
  logisticModel,
  normalCumulative,
  normalQuantile,
  poissonModel,
  poissonRateInterval,
  type RandomStream,
  wilsonInterval,
} from '../statistics/all.ts';
import { feetOfInfants, sharedUniforms } from './feet.ts';
import { holds, type Study } from './study.ts';

const relapse = 0.2;
const yearly = 0.8;

const sum = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => a + b, 0);

/** Exposure of half a year to a year, and Poisson events; with a gamma frailty of the infant if asked. */
function countedEvents(random: RandomStream, count: number, frail: boolean) {
  const feet = feetOfInfants(random, count);
  const frailties = Float64Array.from({ length: feet.infants }, () => (frail ? random.exponential() : 1));
  const years = Float64Array.from({ length: count }, () => 0.5 + 0.5 * random.uniform());
  const events = years.map((time, i) => {
    const rate = yearly * (frailties[feet.infant[i] as number] as number);
    let n = 0;
    for (let t = random.exponential() / rate; t < time; t += random.exponential() / rate) n++;
    return n;
  });
  return { infant: feet.infant, years, events };
}

/** Two raters place a foot in one of four classes: each reads the foot's severity with an error of its own. */
const cuts = [-0.8, 0.1, 0.9];
const classOf = (reading: number): number => cuts.filter(cut => reading > cut).length;
const noise = 0.6;

/** Weighted kappa of the whole population: the chance of each pair of classes, added up over the severities. */
function trueKappa(): number {
  const below = (error: number): number => {
    if (error === Number.POSITIVE_INFINITY) return 1;
    return error === Number.NEGATIVE_INFINITY ? 0 : normalCumulative(error / noise);
  };
  const steps = 4000;
  const joint = Array.from({ length: 4 }, () => new Float64Array(4));
  for (let s = 0; s < steps; s++) {
    const severity = -8 + (16 * (s + 0.5)) / steps;
    const weight = (Math.exp((-severity * severity) / 2) / Math.sqrt(2 * Math.PI)) * (16 / steps);
    const limits = [Number.NEGATIVE_INFINITY, ...cuts, Number.POSITIVE_INFINITY];
    const chance = Float64Array.from(
      { length: 4 },
      (_, k) => below((limits[k + 1] as number) - severity) - below((limits[k] as number) - severity),
    );
    for (let a = 0; a < 4; a++) {
      for (let b = 0; b < 4; b++) {
        (joint[a] as Float64Array)[b] =
          (joint[a]?.[b] as number) + weight * (chance[a] as number) * (chance[b] as number);
      }
    }
  }
  const margin = joint.map(sum);
  let observed = 0;
  let expected = 0;
  for (let a = 0; a < 4; a++) {
    for (let b = 0; b < 4; b++) {
      const distance = (a - b) ** 2 / 9;
      observed += distance * (joint[a]?.[b] as number);
      expected += distance * (margin[a] as number) * (margin[b] as number);
    }
  }
  return 1 - observed / expected;
}

const kappa = trueKappa();

function ratings(random: RandomStream, count: number) {
  const feet = feetOfInfants(random, count);
  const severity = sharedUniforms(random, feet).map(u => normalQuantile(u));
  const read = () => Int32Array.from(severity, s => classOf(s + noise * random.normal()));
  return { infant: feet.infant, first: read(), second: read() };
}

export const countStudies: readonly Study[] = [
  {
    estimator: 'Wilson interval of a proportion',
    setting: `share ${relapse}`,
    measure: 'coverage',
    advice: 'count infants, or take the intercept of a logistic model with `cluster`',
    judge: (random, feet) => {
      const cohort = feetOfInfants(random, feet);
      const outcome = sharedUniforms(random, cohort).map(u => (u < relapse ? 1 : 0));
      const alone = Array.from({ length: feet }, () => (random.uniform() < relapse ? 1 : 0));
      const odds = relapse / (1 - relapse);
      const model = (): boolean | undefined =>
        sum(outcome) === 0
          ? undefined
          : holds(odds, logisticModel({ outcome, covariates: {}, cluster: cohort.infant }).terms[0]);
      return {
        'independent feet': holds(relapse, wilsonInterval(sum(alone), feet)),
        'feet of infants': holds(relapse, wilsonInterval(sum(outcome), feet)),
        'logistic model, clustered by infant': model(),
      };
    },
  },
  {
    estimator: 'exact Poisson interval of a rate',
    setting: `${yearly} events a year over half a year to a year`,
    measure: 'coverage',
    advice: 'take the intercept of a Poisson model with `cluster`',
    judge: (random, feet) => {
      const even = countedEvents(random, feet, false);
      const frail = countedEvents(random, feet, true);
      const offset = frail.years.map(Math.log);
      const model = poissonModel({ outcome: frail.events, covariates: {}, offset, cluster: frail.infant });
      return {
        'independent feet': holds(yearly, poissonRateInterval(sum(even.events), sum(even.years))),
        'frailty of the infant': holds(yearly, poissonRateInterval(sum(frail.events), sum(frail.years))),
        'Poisson model, clustered by infant': holds(yearly, model.terms[0]),
      };
    },
  },
  {
    estimator: 'quadratically weighted kappa',
    setting: `two raters, four classes, kappa ${kappa.toFixed(3)}`,
    measure: 'coverage',
    advice: 'draw infants in a BCa bootstrap',
    dataSets: 500,
    judge: (random, feet) => {
      const { infant, first, second } = ratings(random, feet);
      const options = { weights: 'quadratic', categories: [0, 1, 2, 3] } as const;
      const ofRows = (rows: Int32Array): number | undefined =>
        cohensKappa(
          { first: rows.map(row => first[row] as number), second: rows.map(row => second[row] as number) },
          options,
        ).estimate;
      const drawn = bootstrap({ n: feet, cluster: infant }, ofRows, {
        resamples: 999,
        seed: random.below(2 ** 31),
      });
      return {
        'large-sample error': holds(kappa, cohensKappa({ first, second }, options)),
        'BCa, infants drawn': holds(kappa, drawn.bca),
      };
    },
  },
];
