import type { Plan } from '../../plan/plan.ts';
import { StatisticsError } from '../../statistics/errors.ts';
import {
  type AcceleratedFailureModel,
  acceleratedFailureModel,
  acceleratedFailureQuantile,
  acceleratedFailureSurvival,
} from '../../statistics/regression/accelerated-failure/index.ts';
import {
  survivalAt,
  survivalQuantile,
  type TurnbullEstimate,
  turnbull,
  turnbullAt,
  turnbullBootstrap,
  turnbullQuantile,
} from '../../statistics/survival/index.ts';
import type { Measure } from '../finding.ts';
import { independentIfAlone } from '../tools/adjustment.ts';
import { DAYS_IN_WEEK, weeks, withLimits } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { type BandResult, corrections } from './follow-up.ts';

/** Estimates of one band that allow for the gaps between checkups, beside the visit-dated ones. */
export interface IntervalCensoredBand {
  readonly band: BandResult;
  /** Undefined where it did not converge. */
  readonly estimate: TurnbullEstimate | undefined;
  /** The interval-censored Weibull model, or why there is none. */
  readonly model: AcceleratedFailureModel | string;
  readonly shares: readonly SharesAtWeek[];
  readonly median: {
    readonly visitDated: Measure;
    /** The stretch of time that holds the median. */
    readonly atLeast: Measure;
    readonly atMost: Measure;
    readonly weibull: Measure;
  };
}

export interface SharesAtWeek {
  readonly week: number;
  readonly visitDated: Measure;
  /** The share if each foot straightened at the end of its interval, and just after its beginning. */
  readonly atLeast: Measure;
  readonly atMost: Measure;
  readonly weibull: Measure;
}

/**
 * Interval-censored shares corrected at the weeks of the plan, and the median. Turnbull's estimate leaves open where
 * within an interval its mass lies, so that it is a range; the limits of its lower end come from resampling infants.
 */
export function intervalCensored(band: BandResult, plan: Plan): IntervalCensoredBand {
  const { items, survival } = band;
  const { reportWeeks, resamples } = plan.correction;
  const days = reportWeeks.map(week => week * DAYS_IN_WEEK);
  const lower = items.map(({ foot }) => foot.correction.interval.lower);
  const upper = items.map(({ foot }) => foot.correction.interval.upper);
  const estimate = turnbull({ lower, upper });
  const at = turnbullAt(estimate, days);
  const limits =
    countInfants(items) < 2 || corrections(items) === 0
      ? undefined
      : turnbullBootstrap({ lower, upper, ...independentIfAlone(items, plan) }, days, {
          resamples,
          seed: plan.seed,
          level: plan.level,
          tolerance: RESAMPLE_TOLERANCE,
        }).times;
  const visitDated = survivalAt(survival, days);
  const weibull = weibullOf(band, plan);
  const weibullAt = typeof weibull === 'string' ? undefined : acceleratedFailureSurvival(weibull, {}, days);
  const share = (name: string, label: string, week: number, value: Pick<Measure, 'estimate' | 'state'>) =>
    measure(band, `${name}.week${week}`, `${label} by week ${week}`, 'proportion', value);
  const failed = estimate.converged ? undefined : { state: 'did not converge' };
  return {
    band,
    estimate: estimate.converged ? estimate : undefined,
    model: weibull,
    shares: reportWeeks.map((week, place): SharesAtWeek => {
      const seen = visitDated[place];
      const range = at[place];
      const resampled = limits?.[place];
      const modelled = weibullAt?.[place];
      return {
        week,
        visitDated: share('visit-dated', 'Seen corrected, competing ends censored,', week, complement(seen)),
        atLeast: share(
          'interval-censored.at-least',
          'Corrected at least, between checkups allowed for,',
          week,
          failed ?? atLeastWithLimits(range?.highest, resampled),
        ),
        atMost: share(
          'interval-censored.at-most',
          'Corrected at most, between checkups allowed for,',
          week,
          failed ?? { estimate: share1(range?.lowest) },
        ),
        weibull: share(
          'weibull',
          'Corrected by the interval-censored Weibull model',
          week,
          typeof weibull === 'string' ? { state: weibull } : complement(modelled),
        ),
      };
    }),
    median: medians(band, failed ?? turnbullQuantileOrNone(estimate), weibull),
  };
}

/** Resamples that all agree say nothing about how far the share may be off. */
function atLeastWithLimits(highest: number | undefined, resampled: Survival | undefined) {
  const limits = resampled === undefined ? {} : complement(resampled);
  return limits.lower === limits.upper
    ? { estimate: share1(highest) }
    : withLimits(share1(highest), limits.lower, limits.upper);
}

/** Resamples are read to a few digits; the estimate itself is found to full precision. */
const RESAMPLE_TOLERANCE = 1e-7;

function turnbullQuantileOrNone(estimate: Parameters<typeof turnbullQuantile>[0]) {
  const { lower, upper } = turnbullQuantile(estimate, 0.5);
  // The median lies beyond the last checkup that showed anything.
  return upper === undefined ? { state: 'not reached' } : { lower, upper };
}

function medians(
  band: BandResult,
  stretch: { readonly state: string } | { readonly lower: number; readonly upper: number },
  weibull: AcceleratedFailureModel | string,
): IntervalCensoredBand['median'] {
  const median = (name: string, label: string, value: Pick<Measure, 'estimate' | 'state'>): Measure =>
    measure(band, `${name}.median`, label, 'time', value);
  const seen = survivalQuantile(band.survival, 0.5);
  const half = typeof weibull === 'string' ? undefined : weibullMedian(weibull);
  const end = (name: 'lower' | 'upper') =>
    'state' in stretch ? stretch : { estimate: weeks(stretch[name]) };
  return {
    visitDated: median('visit-dated', 'Median time, visit-dated', inWeeks(seen) ?? { state: 'not reached' }),
    atLeast: median('interval-censored.at-least', 'Median time at least', end('lower')),
    atMost: median('interval-censored.at-most', 'Median time at most', end('upper')),
    weibull: median(
      'weibull',
      'Median time by the interval-censored Weibull model',
      (half && inWeeks(half)) ?? {
        state: typeof weibull === 'string' ? weibull : 'beyond any follow-up',
      },
    ),
  };
}

/** Undefined where the median or a limit of it is too far off to be a number. */
function weibullMedian(model: AcceleratedFailureModel) {
  try {
    return acceleratedFailureQuantile(model, {}, [0.5])[0];
  } catch (error) {
    if (error instanceof StatisticsError && error.code === 'out-of-range') return undefined;
    throw error;
  }
}

/** The model, or why there is none. A foot of which nothing is known, (0, infinity), takes no part. */
function weibullOf({ items }: BandResult, plan: Plan): AcceleratedFailureModel | string {
  const telling = items.filter(
    ({ foot: { correction } }) => correction.interval.lower > 0 || correction.interval.upper < Infinity,
  );
  if (corrections(telling) === 0) return 'no corrections';
  try {
    const model = acceleratedFailureModel(
      {
        lower: telling.map(({ foot }) => foot.correction.interval.lower),
        upper: telling.map(({ foot }) => foot.correction.interval.upper),
        covariates: {},
        ...independentIfAlone(telling, plan),
      },
      { distribution: 'weibull', level: plan.level },
    );
    return model.converged ? model : 'did not converge';
  } catch (error) {
    if (error instanceof StatisticsError && error.code === 'not-converged') return 'did not converge';
    throw error;
  }
}

function measure(
  { band, items }: BandResult,
  key: string,
  label: string,
  kind: 'proportion' | 'time',
  value: Pick<Measure, 'estimate' | 'lower' | 'upper' | 'state'>,
): Measure {
  return {
    key: `${key}.${band}`,
    label,
    group: band,
    kind,
    unit: kind === 'time' ? 'weeks' : 'of 1',
    n: items.length,
    infants: countInfants(items),
    events: corrections(items),
    ...value,
  };
}

interface Survival {
  readonly survival: number;
  readonly lower?: number | undefined;
  readonly upper?: number | undefined;
}

/** The share corrected, from the share not yet corrected. */
function complement(at: Survival | undefined): Pick<Measure, 'estimate' | 'lower' | 'upper'> {
  if (at === undefined) return {};
  return withLimits(
    share1(at.survival),
    at.upper === undefined ? undefined : share1(at.upper),
    at.lower === undefined ? undefined : share1(at.lower),
  );
}

/** 1 less a share; sums of masses may pass 1 by a rounding error. */
function share1(survival = 1): number {
  return Math.min(1, Math.max(0, 1 - survival));
}

function inWeeks(time: {
  readonly estimate: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}): Pick<Measure, 'estimate' | 'lower' | 'upper'> | undefined {
  if (time.estimate === undefined) return undefined;
  // A limit far beyond any follow-up can be too large for a number.
  const limit = (days: number | undefined) =>
    days === undefined || !Number.isFinite(days) ? undefined : weeks(days);
  return withLimits(weeks(time.estimate), limit(time.lower), limit(time.upper));
}
