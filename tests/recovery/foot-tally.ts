import type { FootCourse } from '../../src/synthetic/course-types.ts';
import { expectedHours } from '../../src/synthetic/foot-day.ts';

const WEEK = 7;
/** Weeks over which time in a phase is summed, as by the default plan. */
const PHASE_WEEKS = 24;
const FULL_TIME = 20;
const BREAK_IN = 2;
const COVERED = 0.8;

/** What the study needs of single feet of the large cohort that truth.json does not hold. */
export interface FootTally {
  readonly add: (foot: FootCourse) => void;
  /** Mean weeks on so many hours in the first 24 weeks. */
  readonly weeksOn: (hours: number) => number;
  /** Share gone back to full time by a week, other ends counted as not gone back. */
  readonly backBy: (week: number) => number;
  /** Median over feet of the share of days on which at least 80 % of expected hours were worn. */
  readonly medianDaysCovered: () => number | undefined;
}

export function footTally(): FootTally {
  const days = new Map<number, number>();
  const back: number[] = [];
  const covered: number[] = [];
  let feet = 0;
  return {
    add: foot => {
      feet += 1;
      for (const { hours, from, to } of stretches(foot)) {
        const until = Math.min(to, WEEK * PHASE_WEEKS);
        if (until > from) days.set(hours, (days.get(hours) ?? 0) + until - from);
      }
      const returned = foot.spells.find(
        (spell, i) => spell.hours >= FULL_TIME && (foot.spells[i - 1]?.hours ?? FULL_TIME) < FULL_TIME,
      );
      if (returned !== undefined) back.push(returned.startDay);
      const share = shareCovered(foot);
      if (share !== undefined) covered.push(share);
    },
    weeksOn: hours => (days.get(hours) ?? 0) / WEEK / feet,
    backBy: week => back.filter(day => day <= WEEK * week).length / feet,
    medianDaysCovered: () => covered.toSorted((a, b) => a - b)[Math.floor(covered.length / 2)],
  };
}

function stretches({ spells, endDay = 0 }: FootCourse) {
  return spells.map(({ startDay, hours }, i) => ({
    hours,
    from: startDay,
    to: Math.min(spells[i + 1]?.startDay ?? endDay, endDay),
  }));
}

function shareCovered(foot: FootCourse): number | undefined {
  let counted = 0;
  let reached = 0;
  for (const { hours, from, to } of stretches(foot)) {
    for (let day = Math.max(from, BREAK_IN); day < Math.min(to, foot.worn.length); day += 1) {
      counted += 1;
      if ((foot.worn[day] ?? 0) / 10 / expectedHours(hours) >= COVERED - 1e-9) reached += 1;
    }
  }
  return counted === 0 ? undefined : reached / counted;
}
