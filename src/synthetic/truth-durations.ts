import { BAND_NAMES, type BandName } from './band.ts';
import type { FootCourse } from './course-types.ts';
import { baselineBand, round } from './truth-correction.ts';

interface BandEnds {
  readonly finished: number[];
  /** Ended otherwise: referred, or withdrawn. */
  readonly otherwise: number[];
}
export type DurationTally = Readonly<Record<BandName, BandEnds>>;

export function durationTally(): DurationTally {
  const none = (): BandEnds => ({ finished: [], otherwise: [] });
  return { straight: none(), mild: none(), moderate: none(), severe: none() };
}

/** Adds one foot, followed to its end without loss. */
export function countDuration(tally: DurationTally, foot: FootCourse): void {
  const ends = tally[baselineBand(foot)];
  (foot.endReason === 'finished' ? ends.finished : ends.otherwise).push(foot.endDay ?? 0);
}

/** What is true of the total duration of therapy, band by band. */
export function durationTruth(tally: DurationTally, weeks: number) {
  return BAND_NAMES.map(band => {
    const { finished, otherwise } = tally[band];
    const feet = finished.length + otherwise.length;
    return {
      band,
      feet,
      /** Share of feet that have finished, by whole week from 0; those ended otherwise never do. */
      finishedIncidence: Array.from({ length: weeks + 1 }, (_, week) =>
        round(finished.filter(day => day <= 7 * week).length / Math.max(1, feet)),
      ),
      /** Week by which half would have finished had none ended otherwise. */
      medianWeeks: median(finished, otherwise),
    };
  });
}

/** Of the product over days of one less finished over still in therapy; undefined where it stays above a half. */
function median(finished: readonly number[], otherwise: readonly number[]): number | undefined {
  const ends = [
    ...finished.map(day => ({ day, event: true })),
    ...otherwise.map(day => ({ day, event: false })),
  ].sort((a, b) => a.day - b.day || Number(b.event) - Number(a.event));
  let share = 1;
  for (const [place, { day, event }] of ends.entries()) {
    if (event) share *= 1 - 1 / (ends.length - place);
    // Exactly a half may come out a last digit above it.
    if (share <= 0.5 + 1e-12) return round(day / 7);
  }
  return undefined;
}
