import { tailOutside } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { fQuantileUpper, fUpperTail } from '../distributions/f.ts';
import { StatisticsError } from '../errors.ts';
import { ratingMeanSquares } from './ratings-matrix.ts';
import type { RatingMeanSquares } from './ratings-matrix.ts';

export type IntraclassForm = '1,1' | '2,1' | '3,1' | '1,k' | '2,k' | '3,k';

export interface IntraclassOptions extends LevelOption {
  /**
   * `1`: each subject rated by other raters; `2` (default, `2,1`): the same raters, a sample of raters, their bias
   * counting as disagreement; `3`: the same raters, the only ones of interest, bias not counting. `,1`: one rating;
   * `,k`: the mean over the raters.
   */
  readonly form?: IntraclassForm;
}

export interface IntraclassCorrelation {
  readonly form: IntraclassForm;
  readonly estimate: number;
  /** The limits, the F ratio and its p-value are undefined if nothing is left within subjects. */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  /** F ratio of subjects, with these degrees of freedom above and below. */
  readonly statistic: number | undefined;
  readonly pValue: number | undefined;
  readonly numeratorDf: number;
  readonly denominatorDf: number;
  readonly meanSquares: RatingMeanSquares;
}

/**
 * Intraclass correlation of ratings: the share of variance that lies between subjects. The interval of forms 1 and 3
 * comes from the F ratio, that of form 2 from Satterthwaite's degrees of freedom.
 *
 * Source: Shrout and Fleiss, Psychological Bulletin 1979;86:420-428; McGraw and Wong, Psychological Methods 1996;1:30-46.
 *
 * @param ratings one row a subject, one column a rater, none missing
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `unknown-option`, `constant-covariate` if all
 *   ratings are equal
 * @example intraclassCorrelation([[10, 11], [14, 13], [8, 9]], { form: '2,1' }).estimate // 0.9231
 */
export function intraclassCorrelation(
  ratings: ArrayLike<ArrayLike<number>>,
  options: IntraclassOptions = {},
): IntraclassCorrelation {
  const { form = '2,1' } = options;
  const model = MODELS[form];
  if (model === undefined) {
    throw new StatisticsError('unknown-option', `form is ${form}; allowed: ${Object.keys(MODELS).join(' ')}`);
  }
  const tail = tailOutside(options);
  const squares = ratingMeanSquares(ratings);
  const { subjects: n, raters: k } = squares;
  const within = model === 1 ? squares.withinSubjects : squares.residual;
  const numeratorDf = n - 1;
  const denominatorDf = model === 1 ? n * (k - 1) : (n - 1) * (k - 1);
  if (within <= 0) {
    return nothingWithin(squares, form, numeratorDf, denominatorDf);
  }
  const ratio = squares.betweenSubjects / within;
  const single =
    model === 2 ? twoWayRandom(squares, tail) : oneRatio(ratio, k, numeratorDf, denominatorDf, tail);
  const shown = form.endsWith('k')
    ? { estimate: ofMean(single.estimate, k), lower: ofMean(single.lower, k), upper: ofMean(single.upper, k) }
    : single;
  return {
    ...shown,
    form,
    statistic: ratio,
    numeratorDf,
    denominatorDf,
    pValue: fUpperTail(ratio, numeratorDf, denominatorDf),
    meanSquares: squares,
  };
}

/** No variance within subjects: full agreement but, in form 2, for what raters differ by throughout. */
function nothingWithin(
  squares: RatingMeanSquares,
  form: IntraclassForm,
  numeratorDf: number,
  denominatorDf: number,
): IntraclassCorrelation {
  const { subjects: n, raters: k, betweenSubjects, betweenRaters } = squares;
  if (betweenSubjects === 0) {
    throw new StatisticsError(
      'constant-covariate',
      'subjects do not differ at all; there is nothing to share out',
    );
  }
  const single = form.startsWith('2') ? betweenSubjects / (betweenSubjects + (k * betweenRaters) / n) : 1;
  return {
    form,
    estimate: form.endsWith('k') ? ofMean(single, k) : single,
    lower: undefined,
    upper: undefined,
    statistic: undefined,
    pValue: undefined,
    numeratorDf,
    denominatorDf,
    meanSquares: squares,
  };
}

const MODELS: Readonly<Record<string, 1 | 2 | 3 | undefined>> = {
  '1,1': 1,
  '2,1': 2,
  '3,1': 3,
  '1,k': 1,
  '2,k': 2,
  '3,k': 3,
};

/** Reliability of a mean of k ratings from that of one (Spearman-Brown). */
function ofMean(single: number, k: number): number {
  return (k * single) / (1 + (k - 1) * single);
}

/** Forms 1 and 3: (F - 1)/(F + k - 1), at the F ratio and at its limits. */
function oneRatio(
  ratio: number,
  k: number,
  numeratorDf: number,
  denominatorDf: number,
  tail: number,
): IntervalEstimate {
  const share = (f: number): number => (f - 1) / (f + k - 1);
  return {
    estimate: share(ratio),
    lower: share(ratio / fQuantileUpper(tail, numeratorDf, denominatorDf)),
    upper: share(ratio * fQuantileUpper(tail, denominatorDf, numeratorDf)),
  };
}

/** Form 2: rater variance counts against agreement (Shrout and Fleiss, page 424). */
function twoWayRandom(squares: RatingMeanSquares, tail: number): IntervalEstimate {
  const { subjects: n, raters: k, betweenSubjects, betweenRaters, residual } = squares;
  const estimate =
    (betweenSubjects - residual) /
    (betweenSubjects + (k - 1) * residual + (k * (betweenRaters - residual)) / n);
  const raterRatio = betweenRaters / residual;
  const a = k * estimate * raterRatio;
  const b = n * (1 + (k - 1) * estimate) - k * estimate;
  const df = ((k - 1) * (n - 1) * (a + b) ** 2) / ((n - 1) * a * a + b * b);
  const above = fQuantileUpper(tail, n - 1, df);
  const below = fQuantileUpper(tail, df, n - 1);
  const noise = k * betweenRaters + (k * n - k - n) * residual;
  return {
    estimate,
    lower: (n * (betweenSubjects - above * residual)) / (above * noise + n * betweenSubjects),
    upper: (n * (below * betweenSubjects - residual)) / (noise + n * below * betweenSubjects),
  };
}
