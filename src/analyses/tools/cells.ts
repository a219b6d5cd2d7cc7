import type { Cell } from '../finding.ts';
import { withLimits } from './curves.ts';

/** A measure or an effect. */
interface Estimated {
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
  readonly state?: string;
}

/** An estimate with its limits, or the name of what stands in its place. */
export function cellOf(estimated: Estimated | undefined): Cell {
  if (estimated?.estimate === undefined) return estimated?.state;
  return withLimits(estimated.estimate, estimated.lower, estimated.upper);
}
