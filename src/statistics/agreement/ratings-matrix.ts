import { finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

/** Mean squares of subjects by raters, one rating in each cell. */
export interface RatingMeanSquares {
  readonly subjects: number;
  readonly raters: number;
  readonly betweenSubjects: number;
  readonly betweenRaters: number;
  readonly withinSubjects: number;
  /** What subjects and raters leave (the two-way residual). */
  readonly residual: number;
}

/**
 * Two-way analysis of variance of a table of ratings.
 *
 * @param ratings one row a subject, one column a rater, none missing
 * @throws StatisticsError `empty` unless two subjects and two raters, `length`, `missing-value`, `not-finite`
 */
export function ratingMeanSquares(ratings: ArrayLike<ArrayLike<number>>): RatingMeanSquares {
  const n = ratings.length;
  const k = ratings[0]?.length ?? 0;
  if (n < 2 || k < 2) {
    throw new StatisticsError('empty', `ratings are ${n} x ${k}; two subjects and two raters are needed`);
  }
  const rows = Array.from(ratings, (row, i) => {
    if (row.length !== k) {
      throw new StatisticsError('length', `ratings[${i}] has ${row.length} values; ${k} are needed`);
    }
    return finiteColumn(`ratings[${i}]`, row);
  });
  const rowMeans = rows.map(row => row.reduce((sum, value) => sum + value, 0) / k);
  const grand = rowMeans.reduce((sum, value) => sum + value, 0) / n;
  const columnMeans = new Float64Array(k);
  for (const row of rows) {
    for (let j = 0; j < k; j++) columnMeans[j] = (columnMeans[j] as number) + (row[j] as number) / n;
  }
  let between = 0;
  let columns = 0;
  let within = 0;
  let residual = 0;
  for (const mean of rowMeans) between += (mean - grand) ** 2;
  for (const mean of columnMeans) columns += (mean - grand) ** 2;
  for (const [i, row] of rows.entries()) {
    const mean = rowMeans[i] ?? 0;
    for (let j = 0; j < k; j++) {
      const value = row[j] as number;
      within += (value - mean) ** 2;
      residual += (value - mean - (columnMeans[j] as number) + grand) ** 2;
    }
  }
  return {
    subjects: n,
    raters: k,
    betweenSubjects: (k * between) / (n - 1),
    betweenRaters: (n * columns) / (k - 1),
    withinSubjects: within / (n * (k - 1)),
    residual: residual / ((n - 1) * (k - 1)),
  };
}
