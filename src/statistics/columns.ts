import { StatisticsError } from './errors.ts';

/** Beyond this size squares and products of a few columns leave the range of doubles; no unit needs it. */
const LARGEST = 1e50;

/**
 * Copies a numeric argument into doubles, refusing what is not a finite number. A zero has no sign.
 *
 * @throws StatisticsError `missing-argument`, `empty`, `missing-value`, `not-finite`, or `out-of-range` for a size
 *   above 1e50, naming the argument and the position
 */
export function finiteColumn(name: string, values: ArrayLike<number>): Float64Array {
  requireArray(name, values);
  const n = values.length;
  if (n === 0) throw new StatisticsError('empty', `${name} is empty; at least one value is needed`);
  const column = new Float64Array(n);
  for (let i = 0; i < n; i++) column[i] = finite(name, i, values[i]);
  return column;
}

/** @throws StatisticsError `out-of-range` unless a number from -1e50 to 1e50 */
export function requireSize(name: string, value: number): void {
  if (typeof value === 'number' && Math.abs(value) <= LARGEST) return;
  throw new StatisticsError(
    'out-of-range',
    `${name} is ${String(value)}; a number of at most 1e50 in size is needed`,
  );
}

/** @throws StatisticsError `out-of-range` unless a number from 1e-50 to 1e50 */
export function requirePositiveSize(name: string, value: number): void {
  if (typeof value === 'number' && value >= 1 / LARGEST && value <= LARGEST) return;
  throw new StatisticsError(
    'out-of-range',
    `${name} is ${String(value)}; a number above 0, from 1e-50 to 1e50, is needed`,
  );
}

/** As `finiteColumn`, and of a given length. */
export function finiteColumnOf(name: string, values: ArrayLike<number>, length: number): Float64Array {
  requireLength(name, values, length);
  return finiteColumn(name, values);
}

/** @throws StatisticsError `missing-argument` for an argument that was left out, or misspelt */
export function requireArgument(name: string, value: unknown): void {
  if (value !== undefined && value !== null) return;
  throw new StatisticsError('missing-argument', `${name} is missing; it cannot be left out`);
}

function requireArray(name: string, values: unknown): void {
  requireArgument(name, values);
  if (typeof values === 'object' && values !== null && 'length' in values) return;
  throw new StatisticsError('missing-argument', `${name} is ${String(values)}; an array is needed`);
}

/** Columns that some statistics take and others do not. */
const OPTIONAL_COLUMNS = ['entry', 'weight', 'cluster', 'strata', 'offset'];

/**
 * Refuses a column that would be passed over: another answer than the one asked for would be given without a word. Tests
 * that take rows as independent pass `cluster` over, as they say, so that they can be given the rows of a curve.
 *
 * @throws StatisticsError `unknown-option` for one of entry, weight, cluster, strata and offset that is not taken, or
 *   any of them in the plural
 */
export function refuseUnread(data: object, taken: readonly string[]): void {
  for (const [name, column] of Object.entries(data)) {
    if (column === undefined || taken.includes(name)) continue;
    const meant = name.replace(/s$/, '');
    if (!OPTIONAL_COLUMNS.includes(name) && !OPTIONAL_COLUMNS.includes(meant)) continue;
    throw new StatisticsError('unknown-option', `${name} is not taken here; allowed: ${taken.join(', ')}`);
  }
}

/** @throws StatisticsError `length` if the argument has not as many values as the others, `missing-argument` */
export function requireLength(name: string, values: ArrayLike<unknown>, length: number): void {
  requireArray(name, values);
  if (values.length !== length) {
    throw new StatisticsError('length', `${name} has ${values.length} values; ${length} are needed`);
  }
}

/**
 * Whether a column is the same in every row (`about` 0: is 0 in every row), or so nearly that squares underflow.
 */
export function isConstant(column: Float64Array, about = column[0] as number): boolean {
  for (let i = 0; i < column.length; i++) {
    if (Math.abs((column[i] as number) - about) >= 1 / LARGEST) return false;
  }
  return true;
}

/**
 * @throws StatisticsError `out-of-range` if the smallest weight above 0 is below 1e-12 of the largest: it would be
 *   lost in the rounding of sums
 */
export function requireComparable(name: string, weights: Float64Array): void {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (let i = 0; i < weights.length; i++) {
    const weight = weights[i] as number;
    if (weight > most) most = weight;
    if (weight > 0 && weight < least) least = weight;
  }
  if (least >= 1e-12 * most && least >= 1 / LARGEST) return;
  throw new StatisticsError(
    'out-of-range',
    `${name}[${weights.indexOf(least)}] is ${least}; weights may differ by a factor of 1e12, and the largest is ${most}`,
  );
}

/** Event indicators as 0 and 1; accepts numbers 0 and 1, and booleans. */
export function eventColumn(name: string, values: ArrayLike<number | boolean>, length: number): Uint8Array {
  requireLength(name, values, length);
  const column = new Uint8Array(length);
  for (let i = 0; i < length; i++) {
    const value = values[i];
    if (value === true || value === 1) column[i] = 1;
    else if (value !== false && value !== 0) {
      throw new StatisticsError(
        value === undefined || value === null || Number.isNaN(value) ? 'missing-value' : 'out-of-range',
        `${name}[${i}] is ${String(value)}; 0, 1, false or true is needed`,
      );
    }
  }
  return column;
}

/** Labels as whole-number codes: `codes[i]` is the place of row i's label in `labels`. */
export interface CodedLabels {
  readonly codes: Int32Array;
  readonly labels: readonly (string | number)[];
}

/**
 * Turns group, stratum or cluster labels into codes. The labels stand in the order given, else ascending
 * (numbers by size, then text by code point).
 *
 * @throws StatisticsError `missing-value` for an absent label, `out-of-range` for one not among those given
 */
export function codedLabels(
  name: string,
  values: ArrayLike<string | number>,
  length: number,
  order?: readonly (string | number)[],
): CodedLabels {
  requireLength(name, values, length);
  const seen = new Map<string | number, number>();
  for (const [place, label] of (order ?? []).entries()) seen.set(label, place);
  // The first few labels met: a comparison with each is quicker than a look-up.
  const few: (string | number)[] = [];
  const fewCodes: number[] = [];
  const codes = new Int32Array(length);
  for (let i = 0; i < length; i++) {
    const value = values[i];
    let near = few.length - 1;
    while (near >= 0 && few[near] !== value) near--;
    if (near >= 0) {
      codes[i] = fewCodes[near] as number;
      continue;
    }
    if (value === undefined || value === null || Number.isNaN(value)) {
      throw new StatisticsError('missing-value', `${name}[${i}] is missing; a label is needed`);
    }
    let code = seen.get(value);
    if (code === undefined) {
      if (value === Number.POSITIVE_INFINITY || value === Number.NEGATIVE_INFINITY) {
        throw new StatisticsError('not-finite', `${name}[${i}] is ${value}; a label is needed`);
      }
      if (order !== undefined) {
        throw new StatisticsError(
          'out-of-range',
          `${name}[${i}] is ${String(value)}; allowed: ${order.join(', ')}`,
        );
      }
      code = seen.size;
      seen.set(value, code);
    }
    if (few.length < FEW_LABELS) {
      few.push(value);
      fewCodes.push(code);
    }
    codes[i] = code;
  }
  if (order !== undefined) return { codes, labels: [...order] };
  const labels = [...seen.keys()].sort(ascending);
  const place = new Int32Array(labels.length);
  for (const [rank, label] of labels.entries()) place[seen.get(label) ?? 0] = rank;
  if (place.some((rank, code) => rank !== code)) {
    for (let i = 0; i < length; i++) codes[i] = place[codes[i] as number] as number;
  }
  return { codes, labels };
}

const FEW_LABELS = 4;

function ascending(a: string | number, b: string | number): number {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  if (typeof a !== typeof b) return typeof a === 'number' ? -1 : 1;
  return a < b ? -1 : a > b ? 1 : 0;
}

function finite(name: string, position: number, value: number | undefined): number {
  // Adding 0 turns -0 into 0.
  if (typeof value === 'number' && value <= LARGEST && value >= -LARGEST) return value + 0;
  if (value === undefined || value === null || Number.isNaN(value)) {
    throw new StatisticsError('missing-value', `${name}[${position}] is missing; a number is needed`);
  }
  const finiteNumber = Number.isFinite(value);
  throw new StatisticsError(
    finiteNumber ? 'out-of-range' : 'not-finite',
    `${name}[${position}] is ${String(value)}; a ${finiteNumber ? 'size of at most 1e50' : 'finite number'} is needed`,
  );
}
