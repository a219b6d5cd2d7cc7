/** Adds the rows from one place to before another, four at a time to spare reads and writes of the sums. */
export function addRows(
  z: Float64Array,
  from: number,
  to: number,
  p: number,
  risk: Float64Array,
  first: Float64Array,
  second: Float64Array,
): number {
  let sum = 0;
  let i = from;
  for (; i + 3 < to; i += 4) {
    const ra = risk[i] as number;
    const rb = risk[i + 1] as number;
    const rc = risk[i + 2] as number;
    const rd = risk[i + 3] as number;
    const a = i * p;
    const b = a + p;
    const c = b + p;
    const d = c + p;
    sum += ra + rb + rc + rd;
    for (let j = 0, at = 0; j < p; j++) {
      const za = ra * (z[a + j] as number);
      const zb = rb * (z[b + j] as number);
      const zc = rc * (z[c + j] as number);
      const zd = rd * (z[d + j] as number);
      first[j] = (first[j] as number) + (za + zb + zc + zd);
      for (let k = 0; k <= j; k++, at++) {
        second[at] =
          (second[at] as number) +
          (za * (z[a + k] as number) +
            zb * (z[b + k] as number) +
            zc * (z[c + k] as number) +
            zd * (z[d + k] as number));
      }
    }
  }
  for (; i < to; i++) sum += addRow(z, i * p, p, risk[i] as number, first, second);
  return sum;
}

/** Adds r z and r z z' (lower triangle) to the sums; returns r. */
export function addRow(
  z: Float64Array,
  from: number,
  p: number,
  r: number,
  first: Float64Array,
  second: Float64Array,
): number {
  for (let j = 0, at = 0; j < p; j++) {
    const rz = r * (z[from + j] as number);
    first[j] = (first[j] as number) + rz;
    for (let k = 0; k <= j; k++, at++) second[at] = (second[at] as number) + rz * (z[from + k] as number);
  }
  return r;
}
