/** A sum held as two doubles, so that some 32 digits survive; used where residuals nearly cancel. */
export interface WideSum {
  readonly high: Float64Array;
  readonly low: Float64Array;
}

const SPLITTER = 134217729;

/** The vector as a wide sum without low part. */
export function wide(values: Float64Array): WideSum {
  return { high: Float64Array.from(values), low: new Float64Array(values.length) };
}

/**
 * Adds `factor * values[i]` to each element of a wide sum, keeping the rounding error of product and sum.
 *
 * Source: Dekker, Numer Math 1971;18:224-242 (exact product by splitting); Knuth, TAOCP 2, section 4.2.2 (exact sum).
 */
export function addMultiple(sum: WideSum, factor: number, values: Float64Array): void {
  const { high, low } = sum;
  const factorHead = head(factor);
  const factorTail = factor - factorHead;
  for (let i = 0; i < high.length; i++) {
    const value = values[i] as number;
    const product = factor * value;
    const valueHead = head(value);
    const valueTail = value - valueHead;
    const productError =
      factorHead * valueHead -
      product +
      factorHead * valueTail +
      factorTail * valueHead +
      factorTail * valueTail;
    const before = high[i] as number;
    const total = before + product;
    const part = total - before;
    const sumError = before - (total - part) + (product - part);
    high[i] = total;
    low[i] = (low[i] as number) + sumError + productError;
  }
}

/** The inner product of two vectors, accumulated in double-double. */
export function wideDot(a: Float64Array, b: Float64Array): number {
  let high = 0;
  let low = 0;
  for (let i = 0; i < a.length; i++) {
    const x = a[i] as number;
    const y = b[i] as number;
    const product = x * y;
    const xHead = head(x);
    const xTail = x - xHead;
    const yHead = head(y);
    const yTail = y - yHead;
    const productError = xHead * yHead - product + xHead * yTail + xTail * yHead + xTail * yTail;
    const total = high + product;
    const part = total - high;
    low += high - (total - part) + (product - part) + productError;
    high = total;
  }
  return high + low;
}

function head(value: number): number {
  const scaled = SPLITTER * value;
  return scaled - (scaled - value);
}
