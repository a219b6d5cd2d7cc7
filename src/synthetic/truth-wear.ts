import type { FootCourse } from './course-types.ts';
import { expectedHours } from './foot-day.ts';
import { EVENT_KINDS } from './skin.ts';
import { round } from './truth-correction.ts';

const BREAK_IN = 2;
const WINDOW = 7;
const COVERED = 0.8;

/** At risk and event counts by day of a time-to-event. */
interface DayCounts {
  readonly ended: number[];
  readonly events: number[];
}

export interface WearTally {
  readonly share: Map<number, { sum: number; days: number; covered: number }>;
  readonly lapse: DayCounts;
  readonly discontinuation: DayCounts;
  readonly skin: Map<number, { days: number; readonly events: number[] }>;
}

export function wearTally(): WearTally {
  return {
    share: new Map(),
    lapse: { ended: [], events: [] },
    discontinuation: { ended: [], events: [] },
    skin: new Map(),
  };
}

function countDay(counts: DayCounts, day: number, event: boolean): void {
  const list = event ? counts.events : counts.ended;
  while (list.length <= day) list.push(0);
  list[day] = (list[day] ?? 0) + 1;
}

/** Adds the true wear and the skin events of one foot, as a sensor without a gap would have kept them. */
export function countWear(tally: WearTally, foot: FootCourse): void {
  const end = foot.endDay ?? 0;
  const window: number[] = [];
  let lapse: number | undefined;
  let stopped: number | undefined;
  let run = 0;
  let spell = 0;
  for (let day = 0; day < Math.min(end, foot.worn.length); day += 1) {
    while ((foot.spells[spell + 1]?.startDay ?? Infinity) <= day) spell += 1;
    const hours = foot.spells[spell]?.hours ?? 24;
    const skin = tally.skin.get(hours) ?? { days: 0, events: EVENT_KINDS.map(() => 0) };
    skin.days += 1;
    tally.skin.set(hours, skin);
    for (const event of foot.events) {
      const kind = EVENT_KINDS.indexOf(event.kind);
      if (event.day === day) skin.events[kind] = (skin.events[kind] ?? 0) + 1;
    }
    if (day < BREAK_IN) continue;
    const worn = (foot.worn[day] ?? 0) / 10;
    const share = worn / expectedHours(hours);
    const of = tally.share.get(hours) ?? { sum: 0, days: 0, covered: 0 };
    of.sum += share;
    of.days += 1;
    if (share >= COVERED) of.covered += 1;
    tally.share.set(hours, of);
    window.push(share);
    if (window.length > WINDOW) window.shift();
    const mean = window.reduce((sum, x) => sum + x, 0) / WINDOW;
    if (lapse === undefined && window.length === WINDOW && mean < COVERED - 1e-9) lapse = day;
    run = worn === 0 ? run + 1 : 0;
    if (stopped === undefined && run === WINDOW) stopped = day;
  }
  if (end < BREAK_IN + WINDOW) return;
  countDay(tally.lapse, lapse ?? end - 1, lapse !== undefined);
  const withdrawn = foot.endReason === 'withdrawn';
  countDay(tally.discontinuation, stopped ?? end, stopped !== undefined || withdrawn);
}

/** Share without the event by week, by the product of daily survival. */
function withoutEvent(counts: DayCounts, weeks: number): number[] {
  const total = (list: readonly number[]) => list.reduce((sum, n) => sum + n, 0);
  let atRisk = total(counts.events) + total(counts.ended);
  let survival = 1;
  const byWeek: number[] = [];
  for (let day = 0; day <= 7 * weeks; day += 1) {
    const events = counts.events[day] ?? 0;
    if (atRisk > 0) survival *= 1 - events / atRisk;
    atRisk -= events + (counts.ended[day] ?? 0);
    if (day % 7 === 0) byWeek.push(round(survival));
  }
  return byWeek;
}

/** What is true of adherence and of the skin. */
export function wearTruth(tally: WearTally, weeks: number) {
  const byHours = <T>(map: Map<number, T>) => [...map].sort(([a], [b]) => b - a);
  return {
    adherence: {
      phases: byHours(tally.share).map(([prescribedHours, t]) => ({
        prescribedHours,
        meanShare: round(t.sum / t.days),
        daysCovered: round(t.covered / t.days),
      })),
      withoutLapse: withoutEvent(tally.lapse, weeks),
      withoutDiscontinuation: withoutEvent(tally.discontinuation, weeks),
    },
    skinPer100FootWeeks: byHours(tally.skin).map(([prescribedHours, t]) => ({
      prescribedHours,
      footWeeks: round(t.days / 7),
      rates: Object.fromEntries(
        EVENT_KINDS.map((kind, i) => [kind, round((700 * (t.events[i] ?? 0)) / t.days)]),
      ),
    })),
  };
}
