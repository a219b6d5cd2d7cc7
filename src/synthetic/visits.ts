import { exponential } from './arithmetic.ts';
import { workingDay } from './calendar.ts';
import { changeAt } from './changes.ts';
import type { FootRun, VisitRecord } from './course-types.ts';
import { examine } from './findings.ts';
import { fixRelapseFactor } from './foot-day.ts';
import type { LatentInfant } from './infant.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';
import { type Decision, decide } from './therapist.ts';

/** Day of therapy after which an episode is brought to an end whatever the foot. */
const LAST_RESORT = 500;

/** When the infant is next expected, in days since first fitting; the appointment may be missed. */
export interface Schedule {
  visitNumber: number;
  nextDay: number;
}

const jitter = (scenario: Scenario, random: Stream) =>
  Math.floor(scenario.visits.jitterDays * random.normal() + 0.5);

function onWorkingDay(infant: LatentInfant, day: number): number {
  return workingDay(infant.start + day) - infant.start;
}

/** Plans checkup `schedule.visitNumber + 1`, so many days ahead where it is the third or later. */
export function planNext(
  scenario: Scenario,
  infant: LatentInfant,
  schedule: Schedule,
  today: number,
  interval: number,
  random: Stream,
): void {
  const { visits } = scenario;
  const number = schedule.visitNumber + 1;
  let planned = today + interval;
  if (number === 1) planned = visits.firstDay + Math.floor(infant.site.firstCheckupDelay + 0.5);
  if (number === 2) {
    const drift = changeAt(scenario, 'second checkup delay', infant.site.code, infant.start);
    planned = visits.secondDay + Math.floor(infant.site.secondCheckupDelay + drift + 0.5);
  }
  schedule.nextDay = onWorkingDay(infant, Math.max(planned + jitter(scenario, random), today + 5));
}

/** True: the family does not come today, and a later day is set. */
export function misses(
  scenario: Scenario,
  infant: LatentInfant,
  schedule: Schedule,
  today: number,
  random: Stream,
): boolean {
  const { missedShare, missedPerDistance } = scenario.visits;
  if (!random.chance(missedShare * exponential(missedPerDistance * infant.distance))) return false;
  schedule.nextDay = onWorkingDay(infant, today + random.whole(7, 14));
  return true;
}

/** Changes the prescribed hours from today on, and keeps the step-down if it is one. */
function prescribe(scenario: Scenario, run: FootRun, day: number, hours: number, position: number): void {
  const { course } = run;
  if (hours < run.hours) {
    const early = fixRelapseFactor(scenario, run);
    course.stepDowns.push({ day, fromHours: run.hours, toHours: hours, earliness: early });
    run.reference = position;
  } else {
    run.relapseFactor = 0;
    run.state.drifting = false;
    run.returned = true;
  }
  if (hours > 0) course.spells.push({ startDay: day, hours });
  run.hours = hours;
  run.phaseStart = day;
}

function carryOut(scenario: Scenario, run: FootRun, day: number, decision: Decision, position: number): void {
  const { course } = run;
  if (decision === 'step down') prescribe(scenario, run, day, run.hours >= 20 ? 15 : 12, position);
  if (decision === 'return to full time') prescribe(scenario, run, day, 24, position);
  if (decision === 'finish') {
    prescribe(scenario, run, day, 0, position);
    course.endDay = day;
    course.endReason = 'finished';
  }
}

function record(
  scenario: Scenario,
  infant: LatentInfant,
  run: FootRun,
  visit: VisitRecord,
  second: boolean,
): void {
  run.course.visits.push(visit);
  if (!second || infant.site.clinicians < 2) return;
  const findings = examine(scenario, run.course.latent, run.state, false, run.random.examine);
  const assessor = (visit.assessor + 1) % infant.site.clinicians;
  run.course.visits.push({ ...visit, assessor, findings, decision: undefined });
}

/** First fitting: baseline findings, full time prescribed. */
export function fit(scenario: Scenario, infant: LatentInfant, run: FootRun, second: boolean): void {
  const { course, state, random } = run;
  const findings = examine(scenario, course.latent, state, true, random.examine);
  course.spells.push({ startDay: 0, hours: 24 });
  run.reference = findings.position;
  const baseline = {
    day: 0,
    kind: 'baseline',
    assessor: infant.clinician,
    findings,
    decision: 'start',
  } as const;
  record(scenario, infant, run, baseline, second);
}

/** A checkup of one foot in therapy, with the decision carried out; returns days to the next one. */
export function checkUp(
  scenario: Scenario,
  infant: LatentInfant,
  run: FootRun,
  day: number,
  second: boolean,
): number {
  const { course, state, random } = run;
  const seen = examine(scenario, course.latent, state, true, random.examine);
  const own = course.visits.filter(visit => visit.decision !== undefined);
  const baseline = own[0]?.findings ?? seen;
  const last = own.at(-1)?.findings ?? seen;
  const { hours: prescribedHours, returned, reference } = run;
  const situation = {
    day,
    prescribedHours,
    daysInPhase: day - run.phaseStart,
    returned,
    baseline,
    last,
    reference,
    seen,
  };
  let decision = decide(scenario, infant.boldness, situation, random.therapist);
  if (day >= LAST_RESORT && decision !== 'refer') decision = 'finish';
  const kind = decision === 'finish' ? 'discharge' : 'checkup';
  const visit = { day, kind, assessor: infant.clinician, findings: seen, decision } as const;
  record(scenario, infant, run, visit, second);
  if (decision === 'refer') {
    const old = infant.ageAtStart + day > 274;
    const surgery = random.therapist.chance(scenario.referral.surgeryShare) && old;
    course.endDay = day;
    course.endReason = surgery ? 'referred for surgery' : 'referred for casting';
  } else carryOut(scenario, run, day, decision, seen.position);
  run.strapTight = random.skin.chance(scenario.skin.strapTightShare / 2);
  const fullTime = run.hours >= 20 && decision !== 'return to full time';
  return fullTime ? scenario.visits.laterFullTimeDays : scenario.visits.stepDays;
}

/** An examination outside the schedule: after a skin event, or after therapy. */
export function lookAt(
  scenario: Scenario,
  infant: LatentInfant,
  run: FootRun,
  day: number,
  kind: 'unscheduled' | 'follow-up',
): void {
  const { course, state, random } = run;
  const findings = examine(scenario, course.latent, state, true, random.examine);
  const decision = kind === 'unscheduled' ? ('continue' as const) : undefined;
  course.visits.push({ day, kind, assessor: infant.clinician, findings, decision });
}
