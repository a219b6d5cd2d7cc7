import { exponential } from './arithmetic.ts';
import { nextQuarterStart } from './calendar.ts';
import { changeAt } from './changes.ts';
import type { FootCourse, FootRun, InfantCourse } from './course-types.ts';
import { makeFamily } from './family.ts';
import { dayAfterTherapy, therapyDay } from './foot-day.ts';
import { drawInfant, type LatentFoot, type LatentInfant } from './infant.ts';
import type { Scenario } from './scenario.ts';
import { skinRates } from './skin.ts';
import { stream } from './streams.ts';
import { checkUp, fit, lookAt, misses, planNext, type Schedule } from './visits.ts';

/** Days after therapy for which a finished foot is followed. */
const FOLLOWED_DAYS = 110;
const LONGEST_COURSE = 600;

function startFoot(scenario: Scenario, seed: number, infant: LatentInfant, latent: LatentFoot): FootRun {
  const own = (purpose: string) => stream(seed, infant.index, `${purpose} ${latent.side}`);
  const random = {
    examine: own('examine'),
    therapist: own('therapist'),
    wear: own('wear'),
    skin: own('skin'),
    relapse: own('relapse'),
  };
  const course: FootCourse = {
    latent,
    visits: [],
    spells: [],
    stepDowns: [],
    onsets: [],
    events: [],
    worn: [],
    correctedDay: undefined,
    correctedHours: undefined,
    endDay: undefined,
    endReason: undefined,
    closed: true,
  };
  const straight = latent.position < 2.75 && latent.inflexibility < 1;
  return {
    course,
    state: { progress: straight ? 1 : 0, drift: 0, drifting: false },
    random,
    rates: skinRates(scenario, 1),
    hours: 24,
    phaseStart: 0,
    returned: false,
    reference: 0,
    relapseFactor: 0,
    strapTight: random.skin.chance(scenario.skin.strapTightShare),
    hoursOff: 0,
    totalTenths: 0,
    unscheduledDay: undefined,
    followUps: [],
  };
}

type Leaving = 'withdrawn' | 'moved away' | 'lost to follow-up';

/** Whether the family leaves today, and how. */
function leavesToday(
  scenario: Scenario,
  infant: LatentInfant,
  shortfall: number,
  progress: number,
  draw: number,
): Leaving | undefined {
  const l = scenario.leaving;
  const withdrawn = l.withdrawnADay * exponential(l.withdrawnPerShortfall * shortfall);
  if (draw < withdrawn) return 'withdrawn';
  if (draw < withdrawn + l.movedADay) return 'moved away';
  const lost =
    l.lostADay * exponential(l.lostPerDistance * infant.distance + l.lostPerProgress * (progress - 0.5));
  return draw < withdrawn + l.movedADay + lost ? 'lost to follow-up' : undefined;
}

/**
 * The whole course of one infant, from first fitting until every foot has left therapy and its follow-up.
 * On each day the family may leave; then come the visits of the day; then the day's wear. So a foot that reaches
 * correction by the wear of day d is found corrected from day d + 1.
 */
export function simulateInfant(
  scenario: Scenario,
  seed: number,
  index: number,
  footCount: number,
  start: number,
): InfantCourse {
  const infant = drawInfant(scenario, index, footCount, start, stream(seed, index, 'latent'));
  const family = makeFamily(scenario, infant, stream(seed, index, 'family'));
  const visitRandom = stream(seed, index, 'visits');
  const leavingRandom = stream(seed, index, 'leaving');
  const followUpRandom = stream(seed, index, 'follow-up');
  const runs = infant.feet.map(foot => startFoot(scenario, seed, infant, foot));
  const { secondAssessorShare, followUpShare } = scenario.visits;
  for (const run of runs) fit(scenario, infant, run, visitRandom.chance(secondAssessorShare));
  const schedule: Schedule = { visitNumber: 0, nextDay: 0 };
  planNext(scenario, infant, schedule, 0, 0, visitRandom);

  let shortfall = 0;
  let lastVisit = 0;
  let gone = LONGEST_COURSE + FOLLOWED_DAYS;
  let quarterEnd = start;
  for (let day = 0; day < gone; day += 1) {
    const active = runs.filter(run => run.course.endDay === undefined);
    if (active.length === 0 && runs.every(run => day > (run.course.endDay ?? 0) + FOLLOWED_DAYS)) break;
    if (active.length > 0 && day > 0) {
      const progress = active.reduce((sum, run) => sum + Math.min(1, run.state.progress), 0) / active.length;
      const leaving = leavesToday(scenario, infant, shortfall, progress, leavingRandom.uniform());
      if (leaving) {
        const lost = leaving === 'lost to follow-up';
        const contact = lastVisit > 0 ? lastVisit : Math.min(day, leavingRandom.whole(3, 10));
        const closed = !lost || !leavingRandom.chance(infant.site.leftOpen);
        for (const { course } of active) {
          course.endDay = lost ? contact : day;
          course.endReason = leaving;
          course.closed = closed;
        }
        gone = day;
        continue;
      }
    }
    if (
      active.length > 0 &&
      day === schedule.nextDay &&
      day > 0 &&
      !misses(scenario, infant, schedule, day, visitRandom)
    ) {
      let interval = 1000;
      for (const run of active) {
        const second = visitRandom.chance(secondAssessorShare);
        interval = Math.min(interval, checkUp(scenario, infant, run, day, second));
        run.unscheduledDay = undefined;
      }
      lastVisit = day;
      schedule.visitNumber += 1;
      planNext(scenario, infant, schedule, day, interval, visitRandom);
      planFollowUps(runs, day, followUpShare, followUpRandom);
    }
    if (active.length > 0 && day > 0) family.nextDay();
    if (start + day >= quarterEnd) {
      quarterEnd = nextQuarterStart(start + day);
      const rates = skinRates(scenario, changeAt(scenario, 'skin events', infant.site.code, start + day));
      for (const run of runs) run.rates = rates;
    }
    let worn = 1;
    for (const run of runs) {
      if (run.course.endReason === 'finished') {
        if (run.followUps.includes(day)) lookAt(scenario, infant, run, day, 'follow-up');
        dayAfterTherapy(scenario, run, day);
      } else if (run.course.endDay === undefined) {
        if (run.unscheduledDay === day) {
          lookAt(scenario, infant, run, day, 'unscheduled');
          lastVisit = day;
        }
        worn = family.shareWorn(run.hours);
        therapyDay(scenario, infant, run, day, worn, shortfall);
      }
    }
    shortfall += (1 - worn - shortfall) / 7;
  }
  return { infant, feet: runs.map(run => run.course) };
}

/** Two follow-up assessments, shared by the feet that finished on the same day. */
function planFollowUps(
  runs: readonly FootRun[],
  day: number,
  share: number,
  random: ReturnType<typeof stream>,
): void {
  const finished = runs.filter(run => run.course.endReason === 'finished' && run.course.endDay === day);
  if (finished.length === 0) return;
  const first = day + 42 + random.whole(-5, 5);
  const second = day + 84 + random.whole(-7, 7);
  const kept = [first, second].filter(() => random.chance(share));
  for (const run of finished) run.followUps = kept;
}
