import type { Foot, StepDown } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { randomStream } from '../../statistics/resampling/index.ts';
import { shuffled } from '../../statistics/resampling/shuffled.ts';
import type { Course, CourseSample, CourseStretch } from '../courses.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { FINISHED, LEFT, stateSpells } from './state-spells.ts';

/** No more than one infant in this many is shown, so that the sample says nothing certain of all of them. */
const INFANTS_FOR_EACH = 4;

/**
 * A sample of courses to look at, drawn with the seed of the plan, one foot of an infant at most. None where there are
 * fewer feet than `figures.courses.minimumFeet`, since single feet might be recognised among few.
 */
export function courseSample(
  feet: readonly Foot[],
  stepDowns: readonly StepDown[],
  states: readonly string[],
  plan: Plan,
): CourseSample | undefined {
  const { shown, minimumFeet } = plan.figures.courses;
  const infants = countInfants(feet);
  const size = Math.min(shown, Math.floor(infants / INFANTS_FOR_EACH));
  if (feet.length < minimumFeet || size === 0) return undefined;
  const drawn: Foot[] = [];
  const met = new Set<string>();
  for (const foot of shuffled(feet, randomStream(plan.seed))) {
    if (drawn.length === size) break;
    if (met.has(foot.infant)) continue;
    met.add(foot.infant);
    drawn.push(foot);
  }
  const relapseDays = new Map<string, number[]>();
  for (const { episode, cause, day, daysAtRisk } of stepDowns) {
    if (cause !== 1) continue;
    const found = relapseDays.get(episode) ?? [];
    found.push(day + daysAtRisk);
    relapseDays.set(episode, found);
  }
  const courses = drawn.map(foot => courseOf(foot, relapseDays.get(foot.episode) ?? []));
  return {
    states: states.filter(state => state !== FINISHED && state !== LEFT),
    courses: courses.sort((a, b) => lastWeek(b) - lastWeek(a)),
    n: feet.length,
    infants,
  };
}

function courseOf(foot: Foot, relapseDays: readonly number[]): Course {
  const spells = stateSpells(foot, Infinity);
  const last = spells.at(-1)?.to;
  return {
    stretches: spells.flatMap(({ start, stop, from }): readonly CourseStretch[] => {
      const [begin, end] = [wholeWeek(start), wholeWeek(stop)];
      return begin === end ? [] : [{ state: from, from: begin, to: end }];
    }),
    end: last === FINISHED ? 'finished' : last === LEFT ? 'left' : 'in therapy',
    ...(foot.correction.cause === 1 ? { corrected: wholeWeek(foot.correction.day) } : {}),
    relapses: relapseDays.map(wholeWeek),
  };
}

function wholeWeek(day: number): number {
  return Math.round(day / DAYS_IN_WEEK);
}

function lastWeek({ stretches }: Course): number {
  return stretches.at(-1)?.to ?? 0;
}
