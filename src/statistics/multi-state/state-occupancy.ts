import { normalQuantile } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { confidenceLevel } from '../confidence-level.ts';
import {
  type ProbabilityInterval,
  probabilityIntervals,
  probabilityLimits,
} from '../probability-interval.ts';
import { occupancyPath } from './occupancy-path.ts';
import { checkedSpells, type SpellData } from './spells.ts';
import { oneOf } from '../option.ts';

export interface StateOccupancyOptions {
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
  /** Scale of the limits, for the probability itself; log-log unless told. */
  readonly interval?: ProbabilityInterval | undefined;
  /** End of the period over which mean time in state is counted; the last observed time unless told. */
  readonly horizon?: number | undefined;
  /** The states in the order wanted, also those in which nobody is; ascending unless told. */
  readonly states?: readonly (string | number)[] | undefined;
}

export interface MeanTimeInState {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

type ByState<T> = Readonly<Record<string, T>>;

/** One entry for each distinct stop time, in ascending order; tables are keyed by the state's label. */
export interface StateOccupancy {
  readonly states: readonly (string | number)[];
  readonly time: readonly number[];
  /** In the state just before the time. */
  readonly atRisk: ByState<readonly number[]>;
  /** Probability of being in the state just after the time. */
  readonly probability: ByState<readonly number[]>;
  readonly standardError: ByState<readonly number[]>;
  readonly lower: ByState<readonly (number | undefined)[]>;
  readonly upper: ByState<readonly (number | undefined)[]>;
  /** Probability at the start. */
  readonly initial: ByState<number>;
  /** Observed transitions (sums of weights). */
  readonly transitions: readonly {
    readonly from: string | number;
    readonly to: string | number;
    readonly count: number;
  }[];
  readonly meanTimeInState: ByState<MeanTimeInState>;
  readonly horizon: number;
  /** The horizon lies past the last observed time: the last probabilities were carried on to it. */
  readonly extrapolated: boolean;
  /** Number of spells. */
  readonly n: number;
  readonly level: number;
  readonly interval: ProbabilityInterval;
}

/**
 * Probability of being in each state of a multi-state process over time, for any pattern of transitions, back
 * and forth included.
 *
 * - Aalen-Johansen: at each time the probability flows from state a to b in the share of those in a just
 *   before t who go to b at t. In a state over (start, stop]. Valid for occupancy without the Markov
 *   assumption if censoring does not depend on the past.
 * - Start: the states of those under observation just before the first transition; if they all begin in one
 *   state, that one with probability 1.
 * - Standard errors by the infinitesimal jackknife: the sum over clusters (subjects, unless told) of the
 *   squared derivative with respect to the cluster's weight.
 * - Mean time in state: the area under the probability from the earliest start to the horizon, with a
 *   standard error by the same derivatives.
 *
 * Work grows as clusters times distinct transition times, memory as clusters times states.
 *
 * @throws StatisticsError `entry-not-before-exit` where start is not before stop; `out-of-range` for
 *   overlapping spells of a subject, or one that goes on from another state than it entered, for a negative
 *   time, a label not in `states`, a horizon not after the start; `empty`, `length`, `missing-value`,
 *   `not-finite`
 * @example stateOccupancy({ subject: [1, 1, 2], start: [0, 4, 0], stop: [4, 9, 9], from: ['a', 'b', 'a'], to:
 *   ['b', 'a', ''] }).probability.b // [0.5, 0]
 *
 * Source: Aalen and Johansen, Scand J Stat 1978;5:141-150; occupancy without Markov: Datta and Satten, Stat
 * Probab Lett 2001;55:403-411.
 */
export function stateOccupancy(data: SpellData, options: StateOccupancyOptions = {}): StateOccupancy {
  const level = confidenceLevel(options.level);
  const interval = oneOf('interval', options.interval, probabilityIntervals, 'log-log');
  const spells = checkedSpells(data, options.states);
  const begin = spells.start.reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);
  const lastTime = spells.stop.reduce((most, t) => Math.max(most, t), 0);
  const horizon = options.horizon ?? lastTime;
  if (!(horizon > begin && horizon <= 1e50)) {
    throw new StatisticsError('out-of-range', `horizon is ${horizon}; a time after ${begin} is needed`);
  }
  const path = occupancyPath(spells, begin, horizon);
  const { states } = spells;
  const z = normalQuantile((1 + level) / 2);
  const byState = <T>(value: (state: number) => T): ByState<T> =>
    Object.fromEntries(states.map((label, s) => [String(label), value(s)]));
  const limits = byState(s =>
    (path.probability[s] ?? []).map((p, k) => probabilityLimits(p, path.standardError[s]?.[k], z, interval)),
  );
  const limitsOf = (s: number) => limits[String(states[s])] ?? [];
  return {
    states,
    time: path.time,
    atRisk: byState(s => path.atRisk[s] ?? []),
    probability: byState(s => path.probability[s] ?? []),
    standardError: byState(s => path.standardError[s] ?? []),
    lower: byState(s => limitsOf(s).map(l => l.lower)),
    upper: byState(s => limitsOf(s).map(l => l.upper)),
    initial: byState(s => path.initial[s] ?? 0),
    transitions: path.transitions.map(t => ({
      from: states[t.from] ?? '',
      to: states[t.to] ?? '',
      count: t.count,
    })),
    meanTimeInState: byState(s => {
      const estimate = path.meanTime[s] ?? 0;
      const standardError = path.meanTimeError[s] ?? 0;
      return {
        estimate,
        standardError,
        lower: estimate - z * standardError,
        upper: estimate + z * standardError,
      };
    }),
    horizon,
    extrapolated: horizon > lastTime,
    n: spells.stop.length,
    level,
    interval,
  };
}
