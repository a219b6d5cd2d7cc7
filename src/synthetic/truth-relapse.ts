import type { FootCourse } from './course-types.ts';
import { round } from './truth-correction.ts';

const WEEKS = [3, 6, 12] as const;
/** Days after the end of therapy within which a relapse counts. */
const AFTER_THERAPY = 84;
/** A foot seen in so many of the last of those days is followed to their end. */
const SEEN_WITHIN = 14;

interface StepTally {
  stepDowns: number;
  earliness: number;
  /** Foot-days at risk of being seen to relapse. */
  daysAtRisk: number;
  relapses: number;
  notSeen: number;
  readonly onset: number[];
  readonly seen: number[];
}
export type RelapseTally = Map<string, StepTally>;

export function relapseTally(): RelapseTally {
  return new Map();
}

/**
 * Adds the step-downs of one foot, followed without loss. A relapse as seen is the first examination with the
 * bisector half a position or more beyond that at the step-down, or the first return to longer hours; it counts up to
 * and on the day of the next step-down, which competes.
 */
export function countRelapse(tally: RelapseTally, foot: FootCourse): void {
  const end = foot.endDay ?? 0;
  for (const [i, step] of foot.stepDowns.entries()) {
    const name = `${step.fromHours} to ${step.toHours === 0 ? 'none' : step.toHours}`;
    let t = tally.get(name);
    if (!t) {
      t = {
        stepDowns: 0,
        earliness: 0,
        daysAtRisk: 0,
        relapses: 0,
        notSeen: 0,
        onset: [0, 0, 0],
        seen: [0, 0, 0],
      };
      tally.set(name, t);
    }
    const treating = foot.visits.filter(visit => visit.decision !== undefined || visit.kind === 'follow-up');
    const reference = treating.findLast(visit => visit.day <= step.day)?.findings.position ?? 5;
    const next = foot.stepDowns[i + 1]?.day;
    const finished = step.toHours === 0;
    const lastSeen = treating.at(-1)?.day ?? 0;
    const until = finished ? afterTherapy(step.day, lastSeen) : Math.min(next ?? end, end);
    t.stepDowns += 1;
    t.earliness += step.earliness;
    if (until <= step.day) {
      t.notSeen += 1;
      continue;
    }
    const worse = treating.find(
      visit => visit.day > step.day && visit.day <= until && visit.findings.position >= reference + 0.5,
    )?.day;
    const longer = foot.spells.find(
      (spell, k) =>
        spell.startDay > step.day &&
        spell.startDay <= until &&
        spell.hours > (foot.spells[k - 1]?.hours ?? 24),
    )?.startDay;
    const seen = Math.min(worse ?? Infinity, longer ?? Infinity);
    const onset = foot.onsets.find(o => o.stepDown === i)?.day ?? Infinity;
    t.daysAtRisk += Math.min(seen, until) - step.day;
    if (seen <= until) t.relapses += 1;
    for (const [k, weeks] of WEEKS.entries()) {
      const by = step.day + 7 * weeks;
      if (seen <= until && seen <= by) t.seen[k] = (t.seen[k] ?? 0) + 1;
      if (onset <= until && onset <= by) t.onset[k] = (t.onset[k] ?? 0) + 1;
    }
  }
}

function afterTherapy(finished: number, lastSeen: number): number {
  const last = finished + AFTER_THERAPY;
  return lastSeen >= last - SEEN_WITHIN ? last : lastSeen;
}

/** Risk of relapse after each step-down, with the next step-down and leaving as competing ends. */
export function relapseTruth(tally: RelapseTally) {
  return [...tally]
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .map(([step, t]) => {
      const atRisk = Math.max(1, t.stepDowns - t.notSeen);
      return {
        step,
        stepDowns: t.stepDowns,
        notSeenAfterwards: t.notSeen,
        meanEarliness: round(t.earliness / Math.max(1, t.stepDowns)),
        weeks: WEEKS,
        driftBegun: t.onset.map(count => round(count / atRisk)),
        relapseSeen: t.seen.map(count => round(count / atRisk)),
        seenPer100FootWeeks: t.daysAtRisk > 0 ? round((700 * t.relapses) / t.daysAtRisk) : undefined,
      };
    });
}
