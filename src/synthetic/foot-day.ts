import { clamp, exponential } from './arithmetic.ts';
import type { FootRun } from './course-types.ts';
import { correctedNow, earliness } from './foot-state.ts';
import type { LatentInfant } from './infant.ts';
import type { Scenario } from './scenario.ts';
import { phaseFactor, skinEvent } from './skin.ts';

/** A whole day of full time leaves an hour for care. */
export function expectedHours(prescribed: number): number {
  return prescribed >= 20 ? prescribed - 1 : prescribed;
}

/** Wears the brace for a day and lets progress follow the hours worn. */
function wear(scenario: Scenario, run: FootRun, day: number, familyShare: number): void {
  const { course, state } = run;
  const expected = expectedHours(run.hours);
  const breakIn = day === 0 ? 0.3 : day === 1 ? 0.75 : 1;
  const noise = scenario.adherence.daySpread * run.random.wear.normal();
  const wanted = familyShare > 0 ? expected * breakIn * (familyShare + noise) : 0;
  const off = Math.min(run.hoursOff, 24);
  run.hoursOff -= off;
  const most = run.hours >= 20 ? 23.6 : Math.min(24, run.hours + 1.5);
  const tenths = Math.floor(10 * clamp(wanted - (off * expected) / 24, 0, most) + 0.5);
  course.worn.push(tenths);
  run.totalTenths += tenths;
  state.progress += tenths / 10 / course.latent.hoursNeeded;
  if (state.drift > 0 && run.hours >= 20) {
    state.drift = Math.max(0, state.drift - (scenario.relapse.regainADay * tenths) / 10 / expected);
  }
}

/** Sets what of the relapse hazard a step-down fixes: how early it came, and the stiffness of the foot. */
export function fixRelapseFactor(scenario: Scenario, run: FootRun): number {
  const { consolidation, perEarliness, perStiffness } = scenario.relapse;
  const early = earliness(run.state.progress, consolidation);
  run.relapseFactor = exponential(perEarliness * early + perStiffness * run.course.latent.stiffness);
  return early;
}

/** Drift back after a step-down: begins at random, then goes on from day to day. */
function slip(scenario: Scenario, run: FootRun, day: number, hazard: number, shortfall: number): void {
  const { state } = run;
  const { relapse } = scenario;
  if (state.drifting) {
    state.drift = Math.min(relapse.largestDrift, state.drift + relapse.driftADay);
    return;
  }
  if (run.relapseFactor === 0 || (state.progress < 1 && !relapse.beforeCorrection)) return;
  const late = shortfall > 0 ? exponential(relapse.perShortfall * shortfall) : 1;
  if (run.random.relapse.chance(hazard * run.relapseFactor * late)) {
    state.drifting = true;
    run.course.onsets.push({ stepDown: run.course.stepDowns.length - 1, day: day + 1 });
  }
}

/** One day of therapy of one foot. */
export function therapyDay(
  scenario: Scenario,
  infant: LatentInfant,
  run: FootRun,
  day: number,
  familyShare: number,
  shortfall: number,
): void {
  wear(scenario, run, day, familyShare);
  if (run.hours < 20) {
    const { longOvernight, overnight } = scenario.relapse.dailyHazard;
    slip(scenario, run, day, run.hours > 12 ? longOvernight : overnight, shortfall);
  }
  const { course } = run;
  if (course.correctedDay === undefined && correctedNow(course.latent, run.state)) {
    course.correctedDay = day + 1;
    course.correctedHours = run.totalTenths / 10;
  }
  const factor = phaseFactor(scenario, run.hours);
  const { reviewInTime } = infant.site;
  const event = skinEvent(run.rates, run.strapTight, factor, reviewInTime, day, run.random.skin);
  if (!event) return;
  course.events.push(event);
  run.hoursOff += event.hoursOff;
  if (event.cause === 'strap too tight') run.strapTight = false;
  const { reviewDay } = event;
  if (reviewDay !== undefined && reviewDay > day && run.random.skin.chance(0.4))
    run.unscheduledDay = reviewDay;
}

/** One day after therapy has finished. */
export function dayAfterTherapy(scenario: Scenario, run: FootRun, day: number): void {
  slip(scenario, run, day, scenario.relapse.afterTherapy, 0);
}
