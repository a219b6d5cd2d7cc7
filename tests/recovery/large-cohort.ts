import { acceleratedFailureModel } from '../../src/statistics/regression/accelerated-failure/index.ts';
import { coxModel } from '../../src/statistics/regression/cox/index.ts';
import type { FootCourse } from '../../src/synthetic/course-types.ts';
import { type Scenario, type Truth, truthOf } from '../../src/synthetic/index.ts';
import { baselineBand, seenCorrectedDay } from '../../src/synthetic/truth-correction.ts';
import { type FootTally, footTally } from './foot-tally.ts';
import { type ProductLimit, productLimit } from './product-limit.ts';

export const STUDY_BANDS = ['mild', 'moderate', 'severe'] as const;
export type StudyBand = (typeof STUDY_BANDS)[number];

interface BandDays {
  readonly day: number[];
  readonly event: boolean[];
}

/** Time curves of one band in the large cohort, other ends censored: seen at a checkup, truly corrected, finished. */
export interface BandCurves {
  readonly seen: ProductLimit;
  readonly truly: ProductLimit;
  readonly finished: ProductLimit;
}

/** What is true of a scenario: truth.json of a very large cohort, and what else the study needs of the same feet. */
export interface LargeCohort {
  readonly truth: Truth;
  readonly curves: Readonly<Record<StudyBand, BandCurves>>;
  /** Cox ratios of a band to mild in the large cohort, by the day seen and by the true day. */
  readonly ratio: Readonly<Record<'moderate' | 'severe', { readonly seen: number; readonly truly: number }>>;
  /** Of the days to finishing, a band to mild: Cox ratio, and Weibull time ratio. */
  readonly duration: { readonly hazardRatio: Ratios; readonly timeRatio: Ratios };
  readonly feet: FootTally;
}

type What = keyof BandCurves;
type Ratios = Readonly<Record<'moderate' | 'severe', number>>;

/** Simulates a large cohort without loss to follow-up and without a cut-off. */
export function largeCohort(scenario: Scenario, infants: number, seed: number): LargeCohort {
  const none = (): BandDays => ({ day: [], event: [] });
  const ofBand = () => ({ seen: none(), truly: none(), finished: none() });
  const days = { mild: ofBand(), moderate: ofBand(), severe: ofBand() };
  const feet = footTally();
  const take = (foot: FootCourse): void => {
    feet.add(foot);
    const band = baselineBand(foot);
    if (band === 'straight') return;
    const end = foot.endDay ?? 0;
    const of = days[band];
    const seen = seenCorrectedDay(foot, end);
    const truly = foot.correctedDay !== undefined && foot.correctedDay <= end ? foot.correctedDay : undefined;
    add(of.seen, seen, end);
    add(of.truly, truly, end);
    add(of.finished, foot.endReason === 'finished' ? end : undefined, end);
  };
  const truth = truthOf({ ...scenario, truth: { ...scenario.truth, infants } }, 0, seed, take);
  const curves = (band: StudyBand): BandCurves => {
    const curve = ({ day, event }: BandDays) => productLimit(day, event);
    const { seen, truly, finished } = days[band];
    return { seen: curve(seen), truly: curve(truly), finished: curve(finished) };
  };
  const ratios = { seen: coxRatios(days, 'seen'), truly: coxRatios(days, 'truly') };
  return {
    truth,
    feet,
    curves: { mild: curves('mild'), moderate: curves('moderate'), severe: curves('severe') },
    ratio: {
      moderate: { seen: ratios.seen.moderate, truly: ratios.truly.moderate },
      severe: { seen: ratios.seen.severe, truly: ratios.truly.severe },
    },
    duration: { hazardRatio: coxRatios(days, 'finished'), timeRatio: weibullRatios(days, 'finished') },
  };
}

function add(days: BandDays, event: number | undefined, end: number): void {
  days.day.push(event ?? end);
  days.event.push(event !== undefined);
}

type BandsDays = Readonly<Record<StudyBand, Record<What, BandDays>>>;

/** Days and events of all bands, with indicators of the two that are compared with mild. */
function compared(days: BandsDays, what: What) {
  const all = STUDY_BANDS.flatMap(band =>
    days[band][what].day.map((day, i) => ({ band, day, event: days[band][what].event[i] === true })),
  ).filter(({ day }) => day > 0);
  const is = (band: StudyBand) => all.map(item => (item.band === band ? 1 : 0));
  return {
    data: { time: all.map(({ day }) => day), event: all.map(({ event }) => event) },
    covariates: { moderate: is('moderate'), severe: is('severe') },
  };
}

function coxRatios(days: BandsDays, what: What): Ratios {
  const { data, covariates } = compared(days, what);
  const { terms } = coxModel({ ...data, covariates });
  return ratiosOf(name => terms.find(term => term.name === name)?.hazardRatio, what);
}

function weibullRatios(days: BandsDays, what: What): Ratios {
  const { data, covariates } = compared(days, what);
  const { terms } = acceleratedFailureModel(data, covariates, { distribution: 'weibull' });
  return ratiosOf(name => terms.find(term => term.name === name)?.timeRatio, what);
}

function ratiosOf(ratio: (name: string) => number | undefined, what: What): Ratios {
  const moderate = ratio('moderate');
  const severe = ratio('severe');
  if (moderate === undefined || severe === undefined) {
    throw new RangeError(`no finite ratio of bands by the day ${what}`);
  }
  return { moderate, severe };
}
