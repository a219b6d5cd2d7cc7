/** The scale on which an interval for a probability is symmetric. */
export type ProbabilityInterval = 'log-log' | 'log' | 'plain' | 'logit' | 'arcsine';

export const probabilityIntervals: readonly ProbabilityInterval[] = [
  'log-log',
  'log',
  'plain',
  'logit',
  'arcsine',
];

export interface Limits {
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

const none: Limits = { lower: undefined, upper: undefined };

/**
 * Pointwise limits for a probability p with a standard error, symmetric after a transformation g: g(p) -/+ z
 * s g'(p), taken back.
 *
 * | kind | g |
 * |---|---|
 * | log-log | log(-log p) |
 * | log | log p, upper limit cut at 1 |
 * | plain | p, cut at 0 and 1 |
 * | logit | log(p / (1 - p)) |
 * | arcsine | the arcsine of the square root of p, cut at 0 and 1 |
 *
 * Limits are undefined where g has none: at p = 0 for every kind, at p = 1 for log-log, logit and arcsine.
 *
 * Source: Kalbfleisch and Prentice, The Statistical Analysis of Failure Time Data, 1980, section 1.3; Borgan
 * and Liestoel, Scand J Stat 1990;17:35-41.
 */
export function probabilityLimits(
  p: number,
  standardError: number | undefined,
  z: number,
  kind: ProbabilityInterval,
): Limits {
  if (standardError === undefined || !(p > 0)) return none;
  const half = z * standardError;
  if (kind === 'plain') return { lower: Math.max(0, p - half), upper: Math.min(1, p + half) };
  if (kind === 'log') return { lower: p * Math.exp(-half / p), upper: Math.min(1, p * Math.exp(half / p)) };
  if (!(p < 1)) return none;
  if (kind === 'log-log') {
    const logP = Math.log(p);
    const shift = half / (p * Math.abs(logP));
    return { lower: Math.exp(logP * Math.exp(shift)), upper: Math.exp(logP * Math.exp(-shift)) };
  }
  if (kind === 'logit') {
    const odds = p / (1 - p);
    const factor = Math.exp(half / (p * (1 - p)));
    return { lower: odds / (factor + odds), upper: (odds * factor) / (1 + odds * factor) };
  }
  const angle = Math.asin(Math.sqrt(p));
  const turn = half / (2 * Math.sqrt(p * (1 - p)));
  return {
    lower: Math.sin(Math.max(0, angle - turn)) ** 2,
    upper: Math.sin(Math.min(Math.PI / 2, angle + turn)) ** 2,
  };
}
