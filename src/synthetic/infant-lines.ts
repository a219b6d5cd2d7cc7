import { clamp } from './arithmetic.ts';
import { changeAt } from './changes.ts';
import type { FootCourse, InfantCourse } from './course-types.ts';
import type { LatentInfant } from './infant.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';
import type { TableLines } from './tables.ts';
import { addWearLines, type LogKept } from './wear-lines.ts';

export interface Codes {
  readonly infant: string;
  readonly episodes: readonly string[];
}

/** Everything needed to write one infant into the export. */
export interface InfantExport {
  readonly scenario: Scenario;
  readonly course: InfantCourse;
  readonly codes: Codes;
  readonly kept: LogKept;
  /** Last day in the export, since first fitting. */
  readonly lastDay: number;
  readonly date: (day: number) => string;
  /** Draws of what is left blank. */
  readonly recording: Stream;
  /** Draws of the wear log. */
  readonly log: Stream;
}

const yesNo = (value: boolean) => (value ? 'yes' : 'no');

export function clinicianCode(infant: LatentInfant, place: number): string {
  return `${infant.site.code}-c${place + 1}`;
}

function unless(random: Stream, share: number, value: string): string {
  return random.chance(share) ? '' : value;
}

/** What was agreed with the family of both feet alike. */
interface Fitting {
  readonly sex: string;
  readonly gestation: string;
  readonly referral: string;
  readonly clinician: string;
  readonly teachBack: string;
  readonly photo: string;
  readonly birthDateGiven: boolean;
}

function drawFitting(of: InfantExport): Fitting {
  const { scenario, course, recording: random } = of;
  const { infant } = course;
  const r = scenario.recording;
  const change = changeAt(scenario, 'teach-back', infant.site.code, infant.start);
  const teachBack = random.chance(clamp(infant.site.teachBack + change, 0, 1));
  const photo = random.chance(infant.site.baselinePhoto);
  return {
    sex: unless(random, r.sexMissing, infant.sex),
    gestation: unless(random, r.gestationMissing, String(infant.gestationalWeeks)),
    referral: unless(random, r.referralMissing, of.date(-infant.daysFromReferral)),
    clinician: unless(random, r.assessorMissing, clinicianCode(infant, infant.clinician)),
    teachBack: unless(random, r.fittingMissing, yesNo(teachBack)),
    photo: unless(random, r.fittingMissing, yesNo(photo)),
    birthDateGiven: random.chance(r.birthDateShare),
  };
}

/** Day therapy ended as the export knows it: undefined while in therapy at the cut-off, or never closed. */
function knownEnd(foot: FootCourse, lastDay: number): number | undefined {
  return foot.endDay !== undefined && foot.closed && foot.endDay <= lastDay ? foot.endDay : undefined;
}

function episodeLine(of: InfantExport, foot: FootCourse, code: string, fitting: Fitting): string {
  const { infant } = of.course;
  const end = knownEnd(foot, of.lastDay);
  const random = of.recording;
  return [
    code,
    of.codes.infant,
    infant.site.code,
    fitting.clinician,
    foot.latent.side,
    fitting.sex,
    fitting.birthDateGiven ? '' : String(infant.ageAtStart),
    fitting.birthDateGiven ? of.date(-infant.ageAtStart) : '',
    fitting.gestation,
    fitting.referral,
    of.date(0),
    end === undefined ? '' : of.date(end),
    end === undefined ? '' : (foot.endReason ?? ''),
    fitting.teachBack,
    fitting.photo,
    yesNo(random.chance(0.12)),
    yesNo(random.chance(0.08)),
  ].join(',');
}

/** Last day on which anything of a foot can be known: a lost family is not heard of again. */
function lastKnown(foot: FootCourse, lastDay: number): number {
  const finished = foot.endReason === 'finished';
  return finished || foot.endDay === undefined ? lastDay : Math.min(lastDay, foot.endDay);
}

function addAssessments(of: InfantExport, foot: FootCourse, code: string, lines: string[]): void {
  const r = of.scenario.recording;
  const random = of.recording;
  const factor = of.course.infant.site.missingFindings;
  const until = lastKnown(foot, of.lastDay);
  for (const visit of foot.visits) {
    if (visit.day > until) continue;
    const { findings } = visit;
    // A second assessor is always named, or two blanks on one day would be the same key twice.
    const second = visit.decision === undefined && visit.kind !== 'follow-up';
    lines.push(
      [
        code,
        of.date(visit.day),
        unless(random, second ? 0 : r.assessorMissing, clinicianCode(of.course.infant, visit.assessor)),
        visit.kind,
        unless(random, factor * r.bisectorMissing, String(findings.position)),
        unless(random, r.angleMissing, String(findings.angle)),
        unless(random, factor * r.flexibilityMissing, findings.flexibility),
        unless(random, factor * r.creaseMissing, yesNo(findings.crease)),
        unless(random, r.decisionMissing, visit.decision ?? ''),
      ].join(','),
    );
  }
}

function addPhases(of: InfantExport, foot: FootCourse, code: string, lines: string[]): void {
  const end = knownEnd(foot, of.lastDay);
  for (const [i, spell] of foot.spells.entries()) {
    if (spell.startDay > of.lastDay) break;
    const next = foot.spells[i + 1];
    const last = next && next.startDay <= of.lastDay ? next.startDay - 1 : end;
    lines.push(
      [code, of.date(spell.startDay), last === undefined ? '' : of.date(last), spell.hours].join(','),
    );
  }
}

function addEvents(of: InfantExport, foot: FootCourse, code: string, lines: string[]): void {
  const random = of.recording;
  const missing = of.scenario.recording.eventMissing;
  const until = lastKnown(foot, of.lastDay);
  for (const event of foot.events) {
    if (event.day > until) continue;
    const review = event.reviewDay !== undefined && event.reviewDay <= until ? event.reviewDay : undefined;
    lines.push(
      [
        code,
        of.date(event.day),
        event.kind,
        unless(random, missing, String(event.hoursOff)),
        review === undefined ? '' : of.date(review),
        unless(random, missing, event.cause ?? ''),
      ].join(','),
    );
  }
}

/** Adds the lines of one infant, as far as the cut-off lets them be known, to those of the five files. */
export function addInfantLines(of: InfantExport, lines: TableLines): void {
  const fitting = drawFitting(of);
  for (const [i, foot] of of.course.feet.entries()) {
    const code = of.codes.episodes[i] ?? '';
    lines.episodes.push(episodeLine(of, foot, code, fitting));
    addAssessments(of, foot, code, lines.assessments);
    addPhases(of, foot, code, lines.phases);
    addEvents(of, foot, code, lines.events);
    addWearLines(of.scenario, of.course, foot, of.kept, code, of.lastDay, of.date, of.log, lines.wear);
  }
}
