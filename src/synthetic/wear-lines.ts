import { clamp } from './arithmetic.ts';
import type { FootCourse, InfantCourse } from './course-types.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';

/** What a family keeps of the hours worn. */
export interface LogKept {
  readonly sensor: boolean;
  readonly diary: boolean;
  readonly recall: boolean;
}

export function drawLogKept(scenario: Scenario, random: Stream): LogKept {
  const { sensorShare, diaryShare, recallShare } = scenario.wearLog;
  const sensor = random.chance(sensorShare);
  const diary = random.chance(diaryShare);
  const recall = random.chance(recallShare) && !sensor && !diary;
  return { sensor, diary, recall };
}

const tenths = (n: number) => (n % 10 === 0 ? String(n / 10) : `${Math.floor(n / 10)}.${n % 10}`);

/** Hours as a family tells them: too many on the mean, to the half hour (diary) or the hour (recall). */
function told(trueTenths: number, excess: number, spread: number, unit: number, random: Stream): number {
  const noise = random.normal();
  // A day without the brace is mostly owned up to.
  if (trueTenths === 0) return random.chance(0.8) ? 0 : 20;
  const hours = trueTenths / 10 + excess + spread * noise;
  return clamp(Math.floor((hours * 10) / unit + 0.5) * unit, 0, 240);
}

/**
 * Adds the wear log of one foot: each day from first fitting to the day before therapy ended, or to `lastDay`.
 * @param lastDay Last day that is in the export.
 * @param dates ISO date of a day since first fitting.
 */
export function addWearLines(
  scenario: Scenario,
  course: InfantCourse,
  foot: FootCourse,
  kept: LogKept,
  episode: string,
  lastDay: number,
  dates: (day: number) => string,
  random: Stream,
  lines: string[],
): void {
  const { wearLog } = scenario;
  if (!kept.sensor && !kept.diary && !kept.recall) return;
  const end = Math.min(foot.worn.length, foot.endDay ?? foot.worn.length, lastDay + 1);
  for (let day = 0; day < end; day += 1) {
    const worn = foot.worn[day] ?? 0;
    if (kept.sensor && !random.chance(wearLog.sensorMissing)) {
      lines.push(`${episode},${dates(day)},sensor,${tenths(worn)}`);
    }
    if (kept.diary && !random.chance(wearLog.diaryMissing)) {
      const diary = told(worn, wearLog.diaryExcessHours, wearLog.diarySpreadHours, 5, random);
      lines.push(`${episode},${dates(day)},diary,${tenths(diary)}`);
    }
  }
  if (!kept.recall) return;
  const checkups = foot.visits.filter(
    visit => visit.kind === 'checkup' && visit.assessor === course.infant.clinician,
  );
  let next = 0;
  for (const visit of checkups) {
    for (
      let day = Math.max(next, visit.day - wearLog.recallDaysBefore);
      day < Math.min(visit.day, end);
      day += 1
    ) {
      const recall = told(
        foot.worn[day] ?? 0,
        wearLog.recallExcessHours,
        wearLog.diarySpreadHours,
        10,
        random,
      );
      lines.push(`${episode},${dates(day)},recall,${tenths(recall)}`);
    }
    next = visit.day;
  }
}
