import type { Plan } from '../plan/plan.ts';
import { WEAR_SOURCES } from '../records/rows.ts';
import { adherenceDays, type WearCourse, type WearRows } from './adherence-days.ts';
import type { PairedWear } from './cohort.ts';

const DIARY = WEAR_SOURCES.indexOf('diary');
const SENSOR = WEAR_SOURCES.indexOf('sensor');

/**
 * Hours of the adherence days of one foot on which both a diary and a sensor have a row, whatever source the plan
 * prefers. Takes time in proportion to the rows and adherence days of the foot.
 *
 * @param foot place of the foot in `wear`
 * @returns undefined without such a day
 */
export function pairedWear(
  wear: WearRows,
  foot: number,
  course: WearCourse,
  plan: Plan,
): PairedWear | undefined {
  const from = wear.start[foot] ?? 0;
  const to = wear.start[foot + 1] ?? 0;
  if (!hasBothSources(wear, from, to)) return undefined;
  const { firstDay, lastDay } = adherenceDays(course.spells, course, plan);
  const length = Math.max(0, lastDay - firstDay + 1);
  const diaryOn = new Float64Array(length).fill(-1);
  const sensorOn = new Float64Array(length).fill(-1);
  const { date, source, hours } = wear.columns;
  for (let k = from; k < to; k++) {
    const i = wear.row[k] as number;
    const at = (date[i] as number) - course.startDate - firstDay;
    if (at < 0 || at >= length) continue;
    if (source[i] === DIARY) diaryOn[at] = hours[i] as number;
    else if (source[i] === SENSOR) sensorOn[at] = hours[i] as number;
  }
  const both: number[] = [];
  for (let at = 0; at < length; at++) {
    if ((diaryOn[at] as number) >= 0 && (sensorOn[at] as number) >= 0) both.push(at);
  }
  if (both.length === 0) return undefined;
  return {
    day: Int32Array.from(both, at => at + firstDay),
    diary: Float64Array.from(both, at => diaryOn[at] as number),
    sensor: Float64Array.from(both, at => sensorOn[at] as number),
  };
}

function hasBothSources({ row, columns }: WearRows, from: number, to: number): boolean {
  let diary = false;
  let sensor = false;
  for (let k = from; k < to && !(diary && sensor); k++) {
    const source = columns.source[row[k] as number];
    if (source === DIARY) diary = true;
    else if (source === SENSOR) sensor = true;
  }
  return diary && sensor;
}
