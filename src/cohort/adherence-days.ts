import type { Plan } from '../plan/plan.ts';
import type { WearColumns } from '../records/rows.ts';
import { WEAR_SOURCES } from '../records/rows.ts';
import type { FootWear, PhaseSpell } from './cohort.ts';
import { NO_SOURCE } from './cohort.ts';
import type { Therapy } from './therapy.ts';

/** First and last adherence day of a foot; last before first where it has none. */
export interface AdherenceDays {
  readonly firstDay: number;
  readonly lastDay: number;
}

/**
 * Adherence days: from the end of the break-in, or the first phase if that is later, to the day before the end of
 * therapy, or to the cut-off while in therapy. Phases have no gaps, so every day between counts.
 */
export function adherenceDays(spells: readonly PhaseSpell[], therapy: Therapy, plan: Plan): AdherenceDays {
  const first = spells[0];
  if (first === undefined) return { firstDay: 0, lastDay: -1 };
  return {
    firstDay: Math.max(plan.adherence.breakInDays, first.startDay),
    lastDay: therapy.end === 'in therapy' ? therapy.lastDay : therapy.lastDay - 1,
  };
}

/** Hours a day that count as full adherence: those prescribed, less the care hours in full time. */
export function expectedHours(prescribedHours: number, plan: Plan): number {
  const { fullTimeHours, careHours } = plan.adherence;
  return prescribedHours === fullTimeHours ? prescribedHours - careHours : prescribedHours;
}

/** The wear log by foot: the rows of foot f are `row[start[f]]` to `row[start[f + 1] - 1]`. */
export interface WearRows {
  readonly columns: WearColumns;
  readonly start: Int32Array;
  readonly row: Int32Array;
}

/** Groups the wear log by foot with a counting sort; rows of episodes not among `episodes` are left out. */
export function groupWear(columns: WearColumns, episodes: readonly string[]): WearRows {
  const place = new Map(episodes.map((episode, index) => [episode, index]));
  const footOf = Int32Array.from(columns.episodes, episode => place.get(episode) ?? -1);
  const { episode } = columns;
  const start = new Int32Array(episodes.length + 1);
  let kept = 0;
  for (let i = 0; i < episode.length; i++) {
    const foot = footOf[episode[i] as number] as number;
    if (foot < 0) continue;
    start[foot + 1] = (start[foot + 1] as number) + 1;
    kept++;
  }
  for (let foot = 0; foot < episodes.length; foot++) {
    start[foot + 1] = (start[foot + 1] as number) + (start[foot] as number);
  }
  const fill = start.slice();
  const row = new Int32Array(kept);
  for (let i = 0; i < episode.length; i++) {
    const foot = footOf[episode[i] as number] as number;
    if (foot < 0) continue;
    const at = fill[foot] as number;
    row[at] = i;
    fill[foot] = at + 1;
  }
  return { columns, start, row };
}

/** What the wear of one foot is read by. */
export interface WearCourse extends Therapy {
  readonly startDate: number;
  readonly spells: readonly PhaseSpell[];
}

/**
 * Wear of one foot on its adherence days: a day's hours come from the first source of the plan's order that has a row.
 * With `missingDays: 'not worn'`, an adherence day without a usable row has 0 hours and the source `NO_SOURCE`, provided
 * the foot has a usable row on some adherence day.
 *
 * @param foot place of the foot in `wear`
 * @returns undefined if the log has no row of the foot
 */
export function footWear(wear: WearRows, foot: number, course: WearCourse, plan: Plan): FootWear | undefined {
  const from = wear.start[foot] ?? 0;
  const to = wear.start[foot + 1] ?? 0;
  if (from === to) return undefined;
  const { firstDay, lastDay } = adherenceDays(course.spells, course, plan);
  const length = Math.max(0, lastDay - firstDay + 1);
  const order = sourceRanks(plan);
  const rank = new Uint8Array(length).fill(NO_SOURCE);
  const hoursOn = new Float64Array(length);
  const { date, source, hours } = wear.columns;
  let otherRows = 0;
  let withData = 0;
  for (let k = from; k < to; k++) {
    const i = wear.row[k] as number;
    const at = (date[i] as number) - course.startDate - firstDay;
    if (at < 0 || at >= length) {
      otherRows++;
      continue;
    }
    const own = order[source[i] as number] as number;
    const held = rank[at] as number;
    if (own >= held) continue;
    if (held === NO_SOURCE) withData++;
    rank[at] = own;
    hoursOn[at] = hours[i] as number;
  }

  const fills = plan.adherence.missingDays === 'not worn' && withData > 0;
  const days = fills ? length : withData;
  const kept = {
    day: new Int32Array(days),
    hours: new Float64Array(days),
    expected: new Float64Array(days),
    source: new Uint8Array(days),
  };
  let next = 0;
  for (const spell of course.spells) {
    const expected = expectedHours(spell.prescribedHours, plan);
    const last = Math.min(spell.endDay, lastDay);
    for (let day = Math.max(spell.startDay, firstDay); day <= last; day++) {
      const own = rank[day - firstDay] as number;
      if (own === NO_SOURCE && !fills) continue;
      kept.day[next] = day;
      kept.hours[next] = hoursOn[day - firstDay] as number;
      kept.expected[next] = expected;
      kept.source[next] =
        own === NO_SOURCE ? NO_SOURCE : WEAR_SOURCES.indexOf(plan.adherence.sourceOrder[own] ?? 'recall');
      next++;
    }
  }
  return { ...kept, firstDay, lastDay, otherRows };
}

/** For each place in `WEAR_SOURCES` its rank in the plan's order; `NO_SOURCE` for a source the plan leaves out. */
function sourceRanks(plan: Plan): Uint8Array {
  return Uint8Array.from(WEAR_SOURCES, source => {
    const rank = plan.adherence.sourceOrder.indexOf(source);
    return rank < 0 ? NO_SOURCE : rank;
  });
}
