import type { EndReason, Plan } from '../plan/plan.ts';
import type { CorrectionOutcome, Visit } from './cohort.ts';
import type { Therapy } from './therapy.ts';

const CAUSES: Readonly<Record<EndReason, CorrectionOutcome['cause']>> = {
  'referred for casting': 2,
  'referred for surgery': 2,
  withdrawn: 3,
  finished: 4,
  // These two censor by default; where the plan makes them compete, they count as the family leaving.
  'moved away': 3,
  'lost to follow-up': 3,
};

/** A checkup is any assessment but a baseline one, from day 1 to the last day of therapy. */
export function isCheckup(visit: Visit, therapy: Therapy): boolean {
  return visit.kind !== 'baseline' && visit.day >= 1 && visit.day <= therapy.lastDay;
}

/**
 * Time to correction of one foot, visit-dated and as an interval.
 *
 * Corrected: the day of the first corrected checkup (with `confirmedAtNextCheckup`, of the first one whose next evaluable
 * checkup is corrected too); interval (last uncorrected assessment before it, or 0; that day]. Not corrected: the last
 * day of therapy with the cause of its end; interval (last uncorrected assessment in therapy, or 0; infinity).
 *
 * @param visits by day
 */
export function correctionOutcome(
  visits: readonly Visit[],
  therapy: Therapy,
  criterion: Plan['correction'],
): CorrectionOutcome {
  const evaluable = visits.filter(visit => isCheckup(visit, therapy) && visit.state !== 'not evaluable');
  const corrected = evaluable.find(
    (visit, place) =>
      visit.state === 'corrected' &&
      (!criterion.confirmedAtNextCheckup || evaluable[place + 1]?.state === 'corrected'),
  );
  const before = corrected?.day ?? therapy.lastDay + 1;
  let lower = 0;
  for (const visit of visits) {
    if (visit.state === 'uncorrected' && visit.day < before) lower = Math.max(lower, visit.day);
  }
  if (corrected !== undefined) {
    return { day: corrected.day, cause: 1, interval: { lower, upper: corrected.day } };
  }
  const { end, lastDay } = therapy;
  const competes = end !== 'in therapy' && criterion.competingEnds.includes(end);
  return {
    day: lastDay,
    cause: competes ? CAUSES[end] : 0,
    interval: { lower, upper: Number.POSITIVE_INFINITY },
  };
}
