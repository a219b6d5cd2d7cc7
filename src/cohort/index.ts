export { adherenceDays, expectedHours } from './adherence-days.ts';
export { baselineOf } from './baseline.ts';
export { buildCohort } from './build-cohort.ts';
export type {
  Band,
  BandOrNone,
  Baseline,
  Cohort,
  CorrectionOutcome,
  Counted,
  Flexibility,
  FlowStep,
  FollowUp,
  Foot,
  FootWear,
  PairedWear,
  Grade,
  PhaseSpell,
  SkinEvent,
  StepDown,
  Visit,
} from './cohort.ts';
export { BANDS, CORRECTION_CAUSES, NO_SOURCE, RELAPSE_CAUSES } from './cohort.ts';
export type { CohortFrames } from './cohort-frames.ts';
export { cohortFrames } from './cohort-frames.ts';
export type { FrameColumn, FrameDescription } from './frame-column.ts';
export { FRAME_DICTIONARY } from './frame-dictionary.ts';
export { correctionOutcome, isCheckup } from './correction.ts';
export { discontinuation, discontinuationInSpell } from './discontinuation.ts';
export { lapse, lapseInSpell } from './lapse.ts';
export { wearUnder } from './missing-days.ts';
export { oneFootPerInfant } from './one-foot-per-infant.ts';
export { pairedWear } from './paired-wear.ts';
export { bandedFeet, countFeet, participantFlow } from './participant-flow.ts';
export type { AssessedFindings, PairedAssessment } from './paired-assessments.ts';
export { pairedAssessments } from './paired-assessments.ts';
export { phaseSpells, spellOn } from './phase-spells.ts';
export { positionOn, relapseAfter, stepDownsOf } from './relapse.ts';
export { bisectorGrade, flexibilityGrade, severityBand } from './severity-band.ts';
export { returnDays, stepDownChanges } from './step-downs.ts';
export { assessmentState, countingAssessments, visitsOf } from './visits.ts';
export type { AdherenceOver, Dose } from './wear-measures.ts';
export {
  adherenceInWeek,
  adherenceOfFoot,
  adherenceOver,
  dailyAdherence,
  doseByDay,
  meanAdherenceBefore,
} from './wear-measures.ts';
