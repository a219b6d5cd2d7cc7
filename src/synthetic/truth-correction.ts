import { BAND_NAMES, type BandName, bandOf } from './band.ts';
import type { FootCourse } from './course-types.ts';
import { readsCorrected } from './findings.ts';

/** Width of the classes of hours worn over which hazards are given. */
const HOURS_CLASS = 200;
const HOURS_CLASSES = 15;

interface BandTally {
  feet: number;
  stiffness: number;
  /** Counts by week: true correction, correction as seen at checkups, and the competing ends. */
  readonly truly: number[];
  readonly seen: number[];
  readonly referred: number[];
  readonly withdrawn: number[];
  readonly finishedUncorrected: number[];
  readonly eventsByHours: number[];
  readonly hoursAtRisk: number[];
  readonly eventsByWeek: number[];
  readonly weeksAtRisk: number[];
}

export type CorrectionTally = Readonly<Record<BandName, BandTally>>;

const zeros = (n: number) => Array.from({ length: n }, () => 0);

const add = (counts: number[], place: number, amount: number) => {
  if (place < counts.length) counts[place] = (counts[place] ?? 0) + amount;
};

export function correctionTally(weeks: number): CorrectionTally {
  const band = (): BandTally => ({
    feet: 0,
    stiffness: 0,
    truly: zeros(weeks + 1),
    seen: zeros(weeks + 1),
    referred: zeros(weeks + 1),
    withdrawn: zeros(weeks + 1),
    finishedUncorrected: zeros(weeks + 1),
    eventsByHours: zeros(HOURS_CLASSES),
    hoursAtRisk: zeros(HOURS_CLASSES),
    eventsByWeek: zeros(weeks + 1),
    weeksAtRisk: zeros(weeks + 1),
  });
  return { straight: band(), mild: band(), moderate: band(), severe: band() };
}

/** Whether a checkup of the treating clinician counts for correction: day 1 to the end of therapy. */
export function seenCorrectedDay(foot: FootCourse, end: number): number | undefined {
  const counted = foot.visits.find(
    visit =>
      visit.day > 0 && visit.day <= end && visit.decision !== undefined && readsCorrected(visit.findings),
  );
  return counted?.day;
}

/** The band of a foot by its complete baseline findings. */
export function baselineBand(foot: FootCourse): BandName {
  const first = foot.visits[0];
  return first ? bandOf(first.findings) : 'straight';
}

/** Adds one foot, followed to its end without loss. */
export function countCorrection(tally: CorrectionTally, foot: FootCourse): void {
  const end = foot.endDay ?? 0;
  const band = tally[baselineBand(foot)];
  band.feet += 1;
  band.stiffness += foot.latent.stiffness;
  const week = (day: number) => Math.ceil(day / 7);
  const truly = foot.correctedDay !== undefined && foot.correctedDay <= end ? foot.correctedDay : undefined;
  const seen = seenCorrectedDay(foot, end);
  if (truly !== undefined) add(band.truly, week(truly), 1);
  if (seen !== undefined) add(band.seen, week(seen), 1);
  else if (foot.endReason === 'withdrawn') add(band.withdrawn, week(end), 1);
  else if (foot.endReason === 'finished') add(band.finishedUncorrected, week(end), 1);
  else add(band.referred, week(end), 1);

  const hours =
    truly === undefined
      ? foot.worn.slice(0, end).reduce((sum, tenths) => sum + tenths, 0) / 10
      : (foot.correctedHours ?? 0);
  for (let i = 0; i < HOURS_CLASSES && hours > i * HOURS_CLASS; i += 1) {
    add(band.hoursAtRisk, i, Math.min(hours - i * HOURS_CLASS, HOURS_CLASS));
  }
  const risk = (truly ?? end) / 7;
  for (let i = 0; i < band.weeksAtRisk.length && risk > i; i += 1)
    add(band.weeksAtRisk, i, Math.min(risk - i, 1));
  if (truly !== undefined) {
    add(band.eventsByHours, Math.floor(hours / HOURS_CLASS), 1);
    add(band.eventsByWeek, Math.max(0, week(truly) - 1), 1);
  }
}

export const round = (x: number) => Math.floor(x * 1e6 + 0.5) / 1e6;

/** Cumulative shares of feet, by week. */
function incidence(counts: readonly number[], feet: number): number[] {
  let sum = 0;
  return counts.map(count => {
    sum += count;
    return round(sum / Math.max(1, feet));
  });
}

/** Rate ratio of two bands held within classes of time or hours (Mantel and Haenszel). */
function rateRatio(
  e1: readonly number[],
  t1: readonly number[],
  e0: readonly number[],
  t0: readonly number[],
) {
  let above = 0;
  let below = 0;
  for (let i = 0; i < e1.length; i += 1) {
    const a = t1[i] ?? 0;
    const b = t0[i] ?? 0;
    if (a + b === 0) continue;
    above += ((e1[i] ?? 0) * b) / (a + b);
    below += ((e0[i] ?? 0) * a) / (a + b);
  }
  return below > 0 ? round(above / below) : undefined;
}

function hazardByHours(t: BandTally) {
  const places = t.hoursAtRisk.flatMap((hours, i) => (hours > 0 ? [i] : []));
  return {
    fromHours: places.map(i => i * HOURS_CLASS),
    per1000Hours: places.map(i => round((1000 * (t.eventsByHours[i] ?? 0)) / (t.hoursAtRisk[i] ?? 1))),
  };
}

/** What is true of correction, band by band. */
export function correctionTruth(tally: CorrectionTally) {
  const mild = tally.mild;
  return {
    hoursInClass: HOURS_CLASS,
    bands: BAND_NAMES.map(band => {
      const t = tally[band];
      return {
        band,
        feet: t.feet,
        meanStiffness: round(t.stiffness / Math.max(1, t.feet)),
        /** Share truly corrected while in therapy, by whole week from 0. */
        trueIncidence: incidence(t.truly, t.feet),
        /** Share seen corrected at a checkup, by whole week. */
        seenIncidence: incidence(t.seen, t.feet),
        referredIncidence: incidence(t.referred, t.feet),
        withdrawnIncidence: incidence(t.withdrawn, t.feet),
        finishedUncorrectedIncidence: incidence(t.finishedUncorrected, t.feet),
        /** Corrections per 1000 hours worn, by class of hours worn so far. */
        hazard: hazardByHours(t),
        hazardRatioByHoursWorn: rateRatio(
          t.eventsByHours,
          t.hoursAtRisk,
          mild.eventsByHours,
          mild.hoursAtRisk,
        ),
        hazardRatioByWeeks: rateRatio(t.eventsByWeek, t.weeksAtRisk, mild.eventsByWeek, mild.weeksAtRisk),
      };
    }),
  };
}
