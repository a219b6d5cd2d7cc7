import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { blandAltman } from '../../statistics/agreement/index.ts';
import { bootstrap } from '../../statistics/resampling/index.ts';
import type { FindingTable, Measure, TraceEntry } from '../finding.ts';
import { attempt } from '../tools/attempt.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants, episodesOf } from '../tools/people.ts';

interface Limited {
  readonly estimate: number;
  readonly lower?: number;
  readonly upper?: number;
}

/** Diary less sensor in hours a day, over the days of feet that have both. */
export interface DiaryAgreement {
  readonly feet: readonly Foot[];
  readonly days: number;
  readonly result:
    | { readonly bias: Limited; readonly lowerLimit: Limited; readonly upperLimit: Limited }
    | { readonly state: string };
}

/** The differences of one foot, summed. */
interface FootSums {
  readonly n: number;
  readonly sum: number;
  readonly squares: number;
}

/** Limits of agreement lie so many standard deviations from the bias. */
const MULTIPLIER = 1.96;

/**
 * Bias and limits of agreement for repeated days: the standard deviation has parts within and between feet. Intervals
 * are percentiles of resampled infants, each drawn with all its feet and days.
 */
export function diaryAgainstSensor(feet: readonly Foot[], plan: Plan): DiaryAgreement {
  const paired = feet.filter(foot => foot.pairedWear !== undefined);
  const days = paired.reduce((sum, foot) => sum + (foot.pairedWear?.day.length ?? 0), 0);
  return { feet: paired, days, result: agreement(paired, plan) };
}

function agreement(paired: readonly Foot[], plan: Plan): DiaryAgreement['result'] {
  if (paired.length === 0) return { state: 'no data' };
  const diary = paired.flatMap(foot => Array.from(foot.pairedWear?.diary ?? []));
  const sensor = paired.flatMap(foot => Array.from(foot.pairedWear?.sensor ?? []));
  const cluster = paired.flatMap((foot, place) => Array.from(foot.pairedWear?.day ?? [], () => place));
  const limits = attempt(() => blandAltman(diary, sensor, { cluster, multiplier: MULTIPLIER }));
  if ('state' in limits) return { state: paired.length < 2 ? 'fewer than two feet' : limits.state };
  const sums = paired.map(sumsOf);
  const intervalOf = (side: -1 | 0 | 1): Limited => {
    const estimate = limits.bias.estimate + side * MULTIPLIER * limits.standardDeviation;
    const resampled = attempt(() =>
      bootstrap(
        {
          n: paired.length,
          cluster: paired.map(foot => (plan.clustering.byInfant ? foot.infant : foot.episode)),
        },
        (_, weights) => limitOf(sums, weights, side),
        { seed: plan.seed, resamples: plan.adherence.resamples, level: plan.level, bca: false },
      ),
    );
    if ('state' in resampled) return { estimate };
    return withLimits(estimate, resampled.percentile.lower, resampled.percentile.upper);
  };
  return { bias: intervalOf(0), lowerLimit: intervalOf(-1), upperLimit: intervalOf(1) };
}

function sumsOf(foot: Foot): FootSums {
  let sum = 0;
  let squares = 0;
  const { diary = [], sensor = [] } = foot.pairedWear ?? {};
  for (const [day, hours] of diary.entries()) {
    const difference = hours - (sensor[day] ?? 0);
    sum += difference;
    squares += difference * difference;
  }
  return { n: diary.length, sum, squares };
}

/** Bias, or a limit of agreement, of feet drawn so many times each: one-way analysis of variance by foot. */
function limitOf(feet: readonly FootSums[], weights: Float64Array, side: -1 | 0 | 1): number | undefined {
  let drawn = 0;
  let days = 0;
  let sum = 0;
  let sizeSquares = 0;
  let within = 0;
  for (const [place, foot] of feet.entries()) {
    const weight = weights[place] as number;
    drawn += weight;
    days += weight * foot.n;
    sum += weight * foot.sum;
    sizeSquares += weight * foot.n * foot.n;
    within += weight * (foot.squares - (foot.sum * foot.sum) / foot.n);
  }
  const bias = sum / days;
  if (side === 0) return bias;
  if (drawn < 2) return undefined;
  let between = 0;
  for (const [place, foot] of feet.entries()) {
    between += (weights[place] as number) * foot.n * (foot.sum / foot.n - bias) ** 2;
  }
  const meanWithin = days > drawn ? Math.max(0, within) / (days - drawn) : 0;
  const usualSize = (days - sizeSquares / days) / (drawn - 1);
  const betweenFeet = Math.max(0, (between / (drawn - 1) - meanWithin) / usualSize);
  return bias + side * MULTIPLIER * Math.sqrt(meanWithin + betweenFeet);
}

export function diaryMeasures({ feet, days, result }: DiaryAgreement): readonly Measure[] {
  const infants = countInfants(feet);
  const value = (
    key: string,
    label: string,
    limited: (Limited | { readonly state: string }) | undefined,
  ): Measure => ({
    key: `diary.${key}`,
    label,
    kind: 'difference',
    unit: 'hours a day',
    n: feet.length,
    infants,
    ...(limited ?? { state: 'no data' }),
  });
  const part = (name: 'bias' | 'lowerLimit' | 'upperLimit') => ('state' in result ? result : result[name]);
  return [
    {
      key: 'diary.feet',
      label: 'Feet with diary and sensor',
      kind: 'count',
      unit: 'feet',
      estimate: feet.length,
      infants,
    },
    { key: 'diary.days', label: 'Days with both', kind: 'number', unit: 'days', estimate: days },
    value('bias', 'Diary less sensor: mean', part('bias')),
    value('lowerLimit', 'Diary less sensor: lower limit of agreement', part('lowerLimit')),
    value('upperLimit', 'Diary less sensor: upper limit of agreement', part('upperLimit')),
  ];
}

export function diaryTrace({ feet }: DiaryAgreement): Readonly<Record<string, TraceEntry>> {
  return {
    'diary.feet': {
      rule: 'hours from both a diary and a sensor on some adherence day',
      episodes: episodesOf(feet),
    },
  };
}

export function diaryTable({ feet, days, result }: DiaryAgreement): FindingTable {
  const cell = (name: 'bias' | 'lowerLimit' | 'upperLimit') =>
    'state' in result ? result.state : result[name];
  return {
    key: 'diary',
    title: 'Hours by diary less hours by sensor, on days with both',
    columns: [
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'days', label: 'Days', kind: 'count' },
      { key: 'bias', label: 'Mean difference', unit: 'hours a day', kind: 'number' },
      { key: 'lowerLimit', label: 'Lower limit of agreement', unit: 'hours a day', kind: 'number' },
      { key: 'upperLimit', label: 'Upper limit of agreement', unit: 'hours a day', kind: 'number' },
    ],
    rows: [
      {
        feet: feet.length,
        infants: countInfants(feet),
        days,
        bias: cell('bias'),
        lowerLimit: cell('lowerLimit'),
        upperLimit: cell('upperLimit'),
      },
    ],
    notes: ['Between the limits of agreement lie about 95 of 100 days.'],
  };
}
