import { fromIsoDate, isoDate, workingDay } from './calendar.ts';
import { simulateInfant } from './course.ts';
import type { InfantCourse } from './course-types.ts';
import { addInfantLines, type Codes } from './infant-lines.ts';
import type { Scenario } from './scenario.ts';
import { stream } from './streams.ts';
import { emptyLines, type TableLines } from './tables.ts';
import { drawLogKept } from './wear-lines.ts';

/** Data cut-off of a scenario, as a day number. */
export function cutOffDay(scenario: Scenario): number {
  const { start, recruitmentDays, cutOffDaysAfter } = scenario.cohort;
  return fromIsoDate(start) + recruitmentDays + cutOffDaysAfter;
}

/**
 * The infants of a cohort in the order of first fitting, one at a time, until there are so many feet.
 * First fittings are spread evenly over the recruitment window, on working days.
 */
export function* infantsOf(scenario: Scenario, feet: number, seed: number): Generator<InfantCourse> {
  const first = fromIsoDate(scenario.cohort.start);
  let done = 0;
  for (let index = 0; done < feet; index += 1) {
    const random = stream(seed, index, 'fitting');
    const wanted = random.chance(scenario.cohort.bilateralShare) ? 2 : 1;
    const count = Math.min(wanted, feet - done);
    const day = Math.floor(((done + random.uniform()) / feet) * scenario.cohort.recruitmentDays);
    yield simulateInfant(scenario, seed, index, count, Math.max(first, workingDay(first + day)));
    done += count;
  }
}

/** Codes that tell nothing but the order of first fitting. */
function codesOf(width: number, infant: number, firstFoot: number, count: number): Codes {
  const numbered = (letter: string, n: number) => `${letter}${String(n).padStart(width, '0')}`;
  return {
    infant: numbered('I', infant + 1),
    episodes: Array.from({ length: count }, (_, i) => numbered('E', firstFoot + i + 1)),
  };
}

/** ISO dates by day number, each written once. */
function dateCache(): (day: number) => string {
  const written: (string | undefined)[] = [];
  const base = fromIsoDate('1980-01-01');
  return day => {
    const place = day - base;
    if (place < 0) return isoDate(day);
    const known = written[place];
    if (known !== undefined) return known;
    const text = isoDate(day);
    written[place] = text;
    return text;
  };
}

/**
 * The lines of an invented export, handed out infant by infant so that a cohort of any size needs little memory.
 * The same scenario, number of feet and seed give the same lines on every machine.
 *
 * @param take Receives the lines of one infant; the arrays are the caller's to keep.
 */
export function generateLines(
  scenario: Scenario,
  feet: number,
  seed: number,
  take: (lines: TableLines, feetDone: number) => void,
): void {
  if (!Number.isInteger(feet) || feet < 1)
    throw new RangeError(`feet must be a whole number from 1, not ${feet}`);
  const cutOff = cutOffDay(scenario);
  const isoOf = dateCache();
  const width = Math.max(4, String(feet).length);
  let done = 0;
  for (const course of infantsOf(scenario, feet, seed)) {
    const { infant } = course;
    const lines = emptyLines();
    addInfantLines(
      {
        scenario,
        course,
        codes: codesOf(width, infant.index, done, course.feet.length),
        kept: drawLogKept(scenario, stream(seed, infant.index, 'log kept')),
        lastDay: cutOff - infant.start,
        date: day => isoOf(infant.start + day),
        recording: stream(seed, infant.index, 'recording'),
        log: stream(seed, infant.index, 'wear log'),
      },
      lines,
    );
    done += course.feet.length;
    take(lines, done);
  }
}
