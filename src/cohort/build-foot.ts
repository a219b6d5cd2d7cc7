import type { Plan } from '../plan/plan.ts';
import type { AssessmentRow, EpisodeRow, EventRow, PhaseRow } from '../records/rows.ts';
import type { WearRows } from './adherence-days.ts';
import { footWear } from './adherence-days.ts';
import { baselineOf } from './baseline.ts';
import type { Foot } from './cohort.ts';
import { correctionOutcome } from './correction.ts';
import { discontinuation } from './discontinuation.ts';
import { lapse } from './lapse.ts';
import { pairedWear } from './paired-wear.ts';
import { phaseSpells } from './phase-spells.ts';
import { severityBand } from './severity-band.ts';
import { skinEvents } from './skin-events.ts';
import { therapyOf } from './therapy.ts';
import { countingAssessments, visitsOf } from './visits.ts';

/** The rows that belong to one episode; the wear rows stand in the whole log at the place of the foot. */
export interface FootRows {
  readonly episode: EpisodeRow;
  readonly assessments: readonly AssessmentRow[];
  readonly phases: readonly PhaseRow[];
  readonly events: readonly EventRow[];
  readonly wear: WearRows;
  readonly place: number;
}

/** What the other rows of the export say about a foot. */
export interface FootContext {
  readonly cutOff: number;
  readonly bilateral: boolean;
}

/** One foot with its whole course, by the definitions of the plan. */
export function buildFoot(rows: FootRows, context: FootContext, plan: Plan): Foot {
  const { episode } = rows;
  const startDate = episode.start_date;
  const therapy = therapyOf(episode, context.cutOff);
  const counting = countingAssessments(rows.assessments, episode.clinician_id);
  const baseline = baselineOf(counting, startDate, plan);
  const { band, missing } = severityBand(
    {
      bisector: baseline.bisectorGrade,
      flexibility: baseline.flexibilityGrade,
      crease: baseline.medialCrease,
    },
    plan.severity,
  );
  const visits = visitsOf(counting, startDate, plan);
  const spells = phaseSpells(rows.phases, startDate, therapy.lastDay);
  const course = { ...therapy, startDate, spells };
  const wear = footWear(rows.wear, rows.place, course, plan);
  return {
    episode: episode.episode_id,
    infant: episode.infant_id,
    site: episode.site_id,
    clinician: episode.clinician_id,
    side: episode.foot,
    sex: episode.sex,
    ageAtStartDays: episode.age_at_start_days,
    gestationalWeeks: episode.gestational_weeks,
    bilateral: context.bilateral,
    startDate,
    referralDate: episode.referral_date,
    teachBack: episode.teach_back,
    baselinePhoto: episode.baseline_photo,
    ankleOpened: episode.ankle_opened,
    toeRelieved: episode.toe_relieved,
    baseline,
    band,
    bandMissing: missing,
    ...therapy,
    visits,
    spells,
    events: skinEvents(rows.events, startDate),
    correction: correctionOutcome(visits, therapy, plan.correction),
    wear,
    pairedWear: pairedWear(rows.wear, rows.place, course, plan),
    lapse: lapse(wear, plan),
    discontinuation: discontinuation(wear, therapy, plan),
  };
}
