import { BANDS, type Foot } from '../../cohort/cohort.ts';
import { wearUnder } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';

/**
 * Rows (entry, time] of feet before correction with the lagged adherence of their days, for a hazard model. Neighbouring
 * days of a foot with the same value are one row; days without a value are in no row.
 */
export interface LaggedRows {
  readonly entry: Int32Array;
  readonly time: Int32Array;
  readonly event: Uint8Array;
  /** Mean daily adherence of the days before, as a fraction. */
  readonly adherence: Float64Array;
  /** Place in `BANDS`. */
  readonly band: Uint8Array;
  /** Code of the infant: the same for its feet. */
  readonly infant: Int32Array;
  /** Feet with a value on some day, by code. */
  readonly feet: readonly Foot[];
  readonly footDays: number;
  readonly corrections: number;
  /** Corrections of banded feet on a day without a value, which the model cannot use. */
  readonly correctionsWithoutValue: number;
  /** The feet behind these two counts. */
  readonly corrected: readonly Foot[];
  readonly correctedWithoutValue: readonly Foot[];
}

/**
 * Lagged adherence on day d is the mean over the days with data among the plan's number of days before d, so that wear on
 * the day of correction or after it never explains it. Feet with a band, from day 1 to the end of observation for
 * correction. Takes time in proportion to the days.
 */
export function laggedRows(
  feet: readonly Foot[],
  rule: Plan['adherence']['missingDays'],
  plan: Plan,
): LaggedRows {
  const rows = {
    entry: [] as number[],
    time: [] as number[],
    event: [] as number[],
    adherence: [] as number[],
    band: [] as number[],
    infant: [] as number[],
  };
  const used: Foot[] = [];
  const infants = new Map<string, number>();
  let footDays = 0;
  const corrected: Foot[] = [];
  const correctedWithoutValue: Foot[] = [];
  for (const foot of feet) {
    const band = BANDS.findIndex(name => name === foot.band);
    const { day: end, cause } = foot.correction;
    if (band < 0 || end < 1) continue;
    const infant = infants.get(foot.infant) ?? infants.size;
    infants.set(foot.infant, infant);
    const first = rows.time.length;
    let lastDay = 0;
    forEachLaggedDay(foot, rule, plan, (day, adherence) => {
      const last = rows.time.length - 1;
      if (last >= first && rows.time[last] === day - 1 && rows.adherence[last] === adherence) {
        rows.time[last] = day;
      } else {
        rows.entry.push(day - 1);
        rows.time.push(day);
        rows.event.push(0);
        rows.adherence.push(adherence);
        rows.band.push(band);
        rows.infant.push(infant);
      }
      footDays++;
      lastDay = day;
    });
    if (lastDay > 0) used.push(foot);
    if (cause !== 1) continue;
    if (lastDay === end) {
      rows.event[rows.event.length - 1] = 1;
      corrected.push(foot);
    } else correctedWithoutValue.push(foot);
  }
  return {
    entry: Int32Array.from(rows.entry),
    time: Int32Array.from(rows.time),
    event: Uint8Array.from(rows.event),
    adherence: Float64Array.from(rows.adherence),
    band: Uint8Array.from(rows.band),
    infant: Int32Array.from(rows.infant),
    feet: used,
    footDays,
    corrections: corrected.length,
    correctionsWithoutValue: correctedWithoutValue.length,
    corrected,
    correctedWithoutValue,
  };
}

function forEachLaggedDay(
  foot: Foot,
  rule: Plan['adherence']['missingDays'],
  plan: Plan,
  visit: (day: number, adherence: number) => void,
): void {
  const wear = wearUnder(rule, foot, plan);
  if (wear === undefined || wear.day.length === 0) return;
  const { laggedDays } = plan.adherence;
  const { day: recorded, hours, expected } = wear;
  const daily = hours.map((worn, place) => worn / (expected[place] as number));
  let from = 0;
  let to = 0;
  for (let day = Math.max(1, (recorded[0] as number) + 1); day <= foot.correction.day; day++) {
    while (to < recorded.length && (recorded[to] as number) < day) to++;
    while (from < to && (recorded[from] as number) < day - laggedDays) from++;
    if (from === to) continue;
    let sum = 0;
    for (let place = from; place < to; place++) sum += daily[place] as number;
    visit(day, sum / (to - from));
  }
}
