import type { Plan } from '../../plan/plan.ts';
import { binomialUpperTail } from '../../statistics/distributions/binomial.ts';
import { digitPreference } from '../problems/consistency.ts';
import type { Checking } from './checking.ts';
import { acceptedRows, column } from './checking.ts';

/** Steps in which hours are written, the coarsest first; a value fits a step to within this. */
const STEPS = [0.5, 0.25, 0.2, 0.1, 0.05, 0.02, 0.01] as const;
const FITS = 1e-6;

/**
 * Whether the hours of a source are whole numbers more often than the steps explain in which they are written: of steps
 * of 0.25 hours one in four is whole. The test is the exact one-sided binomial test; 0 and 24 are left out, for they
 * are whole of themselves, and a source that only has whole hours is taken for one that records no finer.
 */
export function checkDigits(wear: Checking, { checks }: Plan): void {
  const { minimumRows, excessShare, pValueBelow } = checks.digitPreference;
  const { file, fields } = wear.data.table;
  const sourceField = fields.find(field => field.name === 'source');
  const words = sourceField?.type === 'category' ? sourceField.categories.map(({ value }) => value) : [];
  const sources = column(wear, 'source');
  const hours = column(wear, 'hours_worn');
  const rows = words.map(() => 0);
  const whole = words.map(() => 0);
  const finest = words.map(() => -1);
  for (const row of acceptedRows(wear)) {
    const source = sources[row] ?? -1;
    const value = hours[row] ?? 0;
    if (value === 0 || value === 24) continue;
    rows[source] = (rows[source] ?? 0) + 1;
    if (Number.isInteger(value)) whole[source] = (whole[source] ?? 0) + 1;
    else finest[source] = Math.max(finest[source] ?? -1, stepOf(value));
  }
  for (const [source, word] of words.entries()) {
    const n = rows[source] ?? 0;
    const count = whole[source] ?? 0;
    const step = STEPS[finest[source] ?? -1];
    if (step === undefined || n < minimumRows || count / n < step + excessShare) continue;
    if (binomialUpperTail(count - 1, n, step) < pValueBelow) {
      wear.problems.add(digitPreference(file, word, count, n, step));
    }
  }
}

/** Place of the coarsest step that a value fits; the finest if it fits none. */
function stepOf(value: number): number {
  const place = STEPS.findIndex(step => Math.abs(value / step - Math.round(value / step)) < FITS / step);
  return place === -1 ? STEPS.length - 1 : place;
}
