import { StatisticsError } from './errors.ts';

/**
 * Copies a numeric argument into doubles, refusing what is not a finite number.
 *
 * @throws StatisticsError `empty`, `missing-value` or `not-finite`, naming the argument and the position
 */
export function finiteColumn(name: string, values: ArrayLike<number>): Float64Array {
  const n = values.length;
  if (n === 0) throw new StatisticsError('empty', `${name} is empty; at least one value is needed`);
  const column = new Float64Array(n);
  for (let i = 0; i < n; i++) column[i] = finite(name, i, values[i]);
  return column;
}

/** As `finiteColumn`, and of a given length. */
export function finiteColumnOf(name: string, values: ArrayLike<number>, length: number): Float64Array {
  requireLength(name, values, length);
  return finiteColumn(name, values);
}

/** @throws StatisticsError `length` if the argument has not as many values as the others */
export function requireLength(name: string, values: ArrayLike<unknown>, length: number): void {
  if (values.length !== length) {
    throw new StatisticsError('length', `${name} has ${values.length} values; ${length} are needed`);
  }
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
  if (typeof value === 'number' && Number.isFinite(value)) return value;
  if (value === undefined || value === null || Number.isNaN(value)) {
    throw new StatisticsError('missing-value', `${name}[${position}] is missing; a number is needed`);
  }
  throw new StatisticsError(
    'not-finite',
    `${name}[${position}] is ${String(value)}; a finite number is needed`,
  );
}
