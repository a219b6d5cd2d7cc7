import { IN_HUNDRED_HOURS, IN_WEEKS, type TimeScale } from '../tools/curves.ts';

/** How the measures of one time scale are named. */
export interface Scale extends TimeScale {
  /** Begins each key: empty for weeks, `dose.` for hours worn. */
  readonly prefix: string;
  readonly unit: string;
  /** `week 8`, `8 hundred hours worn`. */
  readonly moment: (point: number) => string;
  readonly momentKey: (point: number) => string;
}

/** Weeks since first fitting. */
export const WEEKS: Scale = {
  ...IN_WEEKS,
  prefix: '',
  unit: 'weeks',
  moment: week => `week ${week}`,
  momentKey: week => `week${week}`,
};

/** Hours worn since first fitting. */
export const DOSE: Scale = {
  ...IN_HUNDRED_HOURS,
  prefix: 'dose.',
  unit: 'hundred hours',
  moment: point => `${point} hundred hours worn`,
  momentKey: point => `hours${point * 100}`,
};
