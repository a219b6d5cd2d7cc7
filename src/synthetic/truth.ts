import { exponential } from './arithmetic.ts';
import { fromIsoDate, workingDay } from './calendar.ts';
import { simulateInfant } from './course.ts';
import type { FootCourse } from './course-types.ts';
import type { Scenario } from './scenario.ts';
import { stream } from './streams.ts';
import { auditTruth } from './truth-audit.ts';
import { correctionTally, correctionTruth, countCorrection, round } from './truth-correction.ts';
import { countDuration, durationTally, durationTruth } from './truth-durations.ts';
import { countRelapse, relapseTally, relapseTruth } from './truth-relapse.ts';
import { countWear, wearTally, wearTruth } from './truth-wear.ts';

export const TRUTH_VERSION = 1;

const STATES = ['24', '15', '12', 'finished', 'left'] as const;

/** State of a foot on a day, as its place in `STATES`. */
function stateOn(foot: FootCourse, day: number): number {
  if (foot.endDay !== undefined && day >= foot.endDay) return foot.endReason === 'finished' ? 3 : 4;
  const spell = foot.spells.findLast(s => s.startDay <= day);
  return spell === undefined || spell.hours >= 20 ? 0 : spell.hours > 12 ? 1 : 2;
}

/** The scenario with every family kept to the end: nobody moves or is lost, every follow-up is kept. */
export function withoutLoss(scenario: Scenario): Scenario {
  return {
    ...scenario,
    leaving: { ...scenario.leaving, movedADay: 0, lostADay: 0 },
    visits: { ...scenario.visits, followUpShare: 1 },
  };
}

function durations(unsorted: readonly number[]) {
  const days = unsorted.toSorted((a, b) => a - b);
  const middle = days[Math.floor(days.length / 2)];
  return {
    feet: days.length,
    meanDays: days.length > 0 ? round(days.reduce((sum, d) => sum + d, 0) / days.length) : undefined,
    medianDays: middle,
  };
}

/**
 * What is true in a scenario: its hazards as the generator holds them, and the marginal quantities of a large cohort
 * of its own, simulated without loss to follow-up and without a cut-off. Analyses never read it.
 *
 * Weeks run from 0; a share at week w counts what happened up to and on day 7 w. Bands are those of the complete
 * baseline findings by the default plan; feet straight at baseline are left out of correction.
 *
 * @param take Receives each foot of the large cohort, for whoever needs more of it than is kept here.
 */
export function truthOf(
  scenario: Scenario,
  feet: number,
  seed: number,
  take: (foot: FootCourse) => void = () => {},
) {
  const { correction, cohort, truth } = scenario;
  const kept = withoutLoss(scenario);
  const tallies = {
    correction: correctionTally(truth.weeks),
    relapse: relapseTally(),
    wear: wearTally(),
    duration: durationTally(),
  };
  const occupancy = STATES.map(() => Array.from({ length: truth.weeks + 1 }, () => 0));
  const finished: number[] = [];
  const ended: number[] = [];
  // Infants of their own, far from those of the export; first fittings spread over the window as there.
  const first = fromIsoDate(cohort.start);
  for (let i = 0; i < truth.infants; i += 1) {
    const random = stream(seed, i, 'truth');
    const count = random.chance(cohort.bilateralShare) ? 2 : 1;
    const day = first + Math.floor(((i + random.uniform()) / truth.infants) * cohort.recruitmentDays);
    // On working days, as in the export: from a weekend, checkups six weeks on would fall on other days.
    const start = Math.max(first, workingDay(day));
    for (const foot of simulateInfant(kept, seed, 1_000_000_000 + i, count, start).feet) {
      countCorrection(tallies.correction, foot);
      countRelapse(tallies.relapse, foot);
      countWear(tallies.wear, foot);
      countDuration(tallies.duration, foot);
      take(foot);
      const end = foot.endDay ?? 0;
      ended.push(end);
      if (foot.endReason === 'finished') finished.push(end);
      for (let week = 0; week <= truth.weeks; week += 1) {
        const counts = occupancy[stateOn(foot, 7 * week)];
        if (counts) counts[week] = (counts[week] ?? 0) + 1;
      }
    }
  }
  return {
    version: TRUTH_VERSION,
    scenario: scenario.name,
    seed,
    feetInExport: feet,
    infantsSimulated: truth.infants,
    feetSimulated: ended.length,
    hazard: {
      form: 'Weibull in hours worn: the hazard an hour at u hours worn is (shape / scale) (u / scale)^(shape - 1)',
      shape: correction.shape,
      medianHoursOfAverageFoot: correction.medianHours,
      logHoursPerStiffness: correction.logHoursPerStiffness,
      logHoursPerMonthOfAge: correction.logHoursPerMonthOfAge,
      hazardRatioPerStiffness: round(exponential(-correction.shape * correction.logHoursPerStiffness)),
      hazardRatioPerMonthOfAge: round(exponential(-correction.shape * correction.logHoursPerMonthOfAge)),
    },
    weeks: Array.from({ length: truth.weeks + 1 }, (_, week) => week),
    correction: correctionTruth(tallies.correction),
    relapse: relapseTruth(tallies.relapse),
    occupancy: STATES.map((state, i) => ({
      state,
      share: (occupancy[i] ?? []).map(count => round(count / Math.max(1, ended.length))),
    })),
    durations: {
      finished: durations(finished),
      anyEnd: durations(ended),
      bands: durationTruth(tallies.duration, truth.weeks),
    },
    ...wearTruth(tallies.wear, truth.weeks),
    audit: auditTruth(scenario),
  };
}

export type Truth = ReturnType<typeof truthOf>;
