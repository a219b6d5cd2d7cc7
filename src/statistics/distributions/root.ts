/**
 * The root of a continuous function between two points where it has opposite signs.
 *
 * Inverse quadratic interpolation where the three latest points make it safe, else bisection
 * (Chandrupatla, Advances in Engineering Software 1997;28:145-149). The bracket never widens, so the root
 * is always found; infinite function values at the ends are allowed and lead to bisection.
 *
 * @param low, high ends of the bracket
 * @param tolerance width, relative to the root, at which the search stops; default a few units in the last place
 * @returns the root, or the end at which the function is closest to 0 if there is no change of sign
 */
export function rootBetween(f: (x: number) => number, low: number, high: number, tolerance = 4e-16): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0) return Math.abs(fa) < Math.abs(fb) ? a : b;
  let fraction = 0.5;
  for (let step = 0; step < 300; step++) {
    const x = a + fraction * (b - a);
    const fx = f(x);
    if (fx === 0) return x;
    // c is the point that a or b was before; a becomes the newest point, b stays across the root from it.
    let c: number;
    let fc: number;
    if (fx > 0 === fa > 0) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const nearest = (tolerance * Math.abs(best) + 1e-320) / Math.abs(b - a);
    if (nearest >= 0.5) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const safe = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    fraction = safe
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    if (!(fraction > nearest)) fraction = nearest;
    if (fraction > 1 - nearest) fraction = 1 - nearest;
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

/**
 * The positive x at which a decreasing function of log x crosses 0; the bracket grows from a starting guess.
 */
export function positiveRoot(f: (x: number) => number, start: number): number {
  const g = (u: number): number => f(Math.exp(u));
  const u = Math.log(start);
  const first = g(u);
  if (first === 0) return start;
  let width = 0.5;
  const up = first > 0;
  let near = u;
  let far = u;
  while (far > -745 && far < 709.7) {
    near = far;
    far = Math.max(-745, Math.min(709.7, far + (up ? width : -width)));
    if (g(far) > 0 !== up) break;
    width *= 2;
  }
  // The logarithm of a root near 1 is near 0: the width is judged on an absolute scale there.
  return polish(f, Math.exp(Math.min(near, far)), Math.exp(Math.max(near, far)));
}

function polish(f: (x: number) => number, low: number, high: number): number {
  // Halve the logarithm until the bracket is narrow enough for interpolation on the plain scale.
  let a = low;
  let b = high;
  while (b > 4 * a && a > 0) {
    const middle = Math.sqrt(a) * Math.sqrt(b);
    if (f(middle) > 0) a = middle;
    else b = middle;
  }
  return rootBetween(f, a, b);
}
