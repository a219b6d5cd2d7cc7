export type Verdict = 'met' | 'not met' | 'too few to say';

/** How one audit standard stood in one quarter. Shares are fractions of 1. */
export interface StandardResult {
  readonly key: string;
  readonly title: string;
  /** `at least`: the share must reach the target; `under`: it must stay below it. */
  readonly direction: 'at least' | 'under';
  readonly target: number;
  /** Those that met it (`at least`) or failed it (`under`), of the `n` that came due. */
  readonly count: number;
  readonly n: number;
  readonly infants: number;
  /** The share with its Wilson interval; absent where nothing came due. */
  readonly share?: { readonly estimate: number; readonly lower: number; readonly upper: number };
  readonly verdict: Verdict;
  /** The share less that of the quarter before; absent where nothing came due in one of them. */
  readonly change?: { readonly estimate: number; readonly lower: number; readonly upper: number };
}
