import type { EndReason } from '../plan/plan.ts';
import type { PairedAssessment } from './paired-assessments.ts';

export type Band = 'mild' | 'moderate' | 'severe';
/** Bands in their order, and the two ways of having none. */
export const BANDS = ['mild', 'moderate', 'severe'] as const;
export type BandOrNone = Band | 'straight' | 'not known';
export type Grade = 'straight' | Band;
export type Flexibility = 'past straight' | 'to straight' | 'short of straight';

/** The three baseline findings and the grades read from them. Days are since first fitting. */
export interface Baseline {
  readonly day: number | undefined;
  readonly bisectorPosition: number | undefined;
  readonly bisectorAngleDegrees: number | undefined;
  readonly flexibility: Flexibility | undefined;
  readonly medialCrease: boolean | undefined;
  readonly bisectorGrade: Grade | undefined;
  readonly flexibilityGrade: Band | undefined;
}

/** One examination that counts (one a day), baseline included, by day. */
export interface Visit {
  readonly day: number;
  readonly kind: 'baseline' | 'checkup' | 'unscheduled' | 'discharge' | 'follow-up';
  readonly assessor: string | undefined;
  readonly bisectorPosition: number | undefined;
  readonly flexibility: Flexibility | undefined;
  readonly medialCrease: boolean | undefined;
  readonly decision: string | undefined;
  readonly state: 'corrected' | 'uncorrected' | 'not evaluable';
}

/** Prescribed hours in force from `startDay` to `endDay`, both included. */
export interface PhaseSpell {
  readonly startDay: number;
  readonly endDay: number;
  readonly prescribedHours: number;
}

export const CORRECTION_CAUSES = [
  'censored',
  'corrected',
  'referred',
  'withdrawn',
  'finished uncorrected',
] as const;

/** When the foot was first seen corrected, or how its observation ended without that. */
export interface CorrectionOutcome {
  /** Visit-dated day of the end of observation. */
  readonly day: number;
  /** Place in `CORRECTION_CAUSES`. */
  readonly cause: 0 | 1 | 2 | 3 | 4;
  /** Interval (lower, upper] that holds the true day; `upper` is Infinity when never seen corrected. */
  readonly interval: { readonly lower: number; readonly upper: number };
}

/** Source of an adherence day that has no row and counts as not worn (`adherence.missingDays: not worn`). */
export const NO_SOURCE = 255;

/** Hours worn on the adherence days of one foot that have data, by day. */
export interface FootWear {
  readonly day: Int32Array;
  readonly hours: Float64Array;
  readonly expected: Float64Array;
  /** Place in `WEAR_SOURCES` of the source used, or `NO_SOURCE`. */
  readonly source: Uint8Array;
  /** First and last adherence day of the foot (last < first: none). */
  readonly firstDay: number;
  readonly lastDay: number;
  /** Rows on days that are no adherence days, left out. */
  readonly otherRows: number;
}

/** Adherence days of one foot with hours from both a diary and a sensor, by day. */
export interface PairedWear {
  readonly day: Int32Array;
  readonly diary: Float64Array;
  readonly sensor: Float64Array;
}

/** End of a follow-up in days, and whether the event ended it. */
export interface FollowUp {
  readonly day: number;
  readonly event: boolean;
}

export interface SkinEvent {
  readonly day: number;
  readonly kind: string;
  readonly hoursOff: number | undefined;
  readonly reviewDay: number | undefined;
  readonly cause: string | undefined;
}

/** One treated foot with its whole course. Days are since first fitting. */
export interface Foot {
  readonly episode: string;
  readonly infant: string;
  readonly site: string;
  readonly clinician: string | undefined;
  readonly side: 'left' | 'right';
  readonly sex: 'female' | 'male' | 'not recorded' | undefined;
  readonly ageAtStartDays: number;
  readonly gestationalWeeks: number | undefined;
  /** The other foot of the infant is in the export too. */
  readonly bilateral: boolean;
  /** Days since 1970-01-01. */
  readonly startDate: number;
  readonly referralDate: number | undefined;
  readonly teachBack: boolean | undefined;
  readonly baselinePhoto: boolean | undefined;
  readonly ankleOpened: boolean | undefined;
  readonly toeRelieved: boolean | undefined;
  readonly baseline: Baseline;
  readonly band: BandOrNone;
  /** Baseline findings whose absence leaves the band not known. */
  readonly bandMissing: readonly ('bisector' | 'flexibility' | 'crease')[];
  /** Last day of therapy: its end, or the cut-off. */
  readonly lastDay: number;
  readonly end: EndReason | 'in therapy';
  readonly visits: readonly Visit[];
  readonly spells: readonly PhaseSpell[];
  readonly events: readonly SkinEvent[];
  readonly correction: CorrectionOutcome;
  /** Undefined: no row in the wear log. Its arrays are empty if all rows are on other than adherence days. */
  readonly wear: FootWear | undefined;
  /** Undefined: no adherence day has both sources. */
  readonly pairedWear: PairedWear | undefined;
  /** Undefined: no evaluable day. */
  readonly lapse: FollowUp | undefined;
  /** Undefined: no wear data on any adherence day. */
  readonly discontinuation: FollowUp | undefined;
}

export const RELAPSE_CAUSES = ['censored', 'relapse', 'next step-down', 'left therapy'] as const;

/** One step-down of one foot, and what followed it. */
export interface StepDown {
  readonly episode: string;
  readonly infant: string;
  readonly band: BandOrNone;
  readonly site: string;
  /** Day of the step-down since first fitting. */
  readonly day: number;
  readonly fromHours: number;
  /** 0: therapy finished. */
  readonly toHours: number;
  /** Such as `24 to 15` or `12 to none`. */
  readonly step: string;
  /** Which step-down of the foot this is, from 1. */
  readonly ordinal: number;
  /** Days from the start of the spell before to the step-down. */
  readonly daysInPhaseBefore: number;
  readonly referencePosition: number | undefined;
  /** Days at risk after the step-down; 0 means not seen after it. */
  readonly daysAtRisk: number;
  /** Place in `RELAPSE_CAUSES`; 0 where there are no days at risk. */
  readonly cause: 0 | 1 | 2 | 3;
  /** The sign that came first, for a relapse. */
  readonly sign: 'bisector worse' | 'longer hours' | 'both' | undefined;
}

/** A count of feet and of the infants they belong to, with the episodes behind it (never published). */
export interface Counted {
  readonly feet: number;
  readonly infants: number;
  readonly episodes: readonly string[];
}

/** One line of the participant flow. */
export interface FlowStep {
  readonly key: string;
  readonly label: string;
  /** Steps that split the one above are indented by one. */
  readonly depth: number;
  readonly counted: Counted;
  /** A count of rows before acceptance, given as `feet`: infants are not known and stand as 0. */
  readonly rowsOnly?: true;
}

/** Every accepted episode, by the definitions of the plan. */
export interface Cohort {
  readonly service: string | undefined;
  /** Days since 1970-01-01. */
  readonly cutOff: number;
  /** By episode code. */
  readonly feet: readonly Foot[];
  readonly stepDowns: readonly StepDown[];
  /** Feet assessed more than once on one day, by episode code and day. */
  readonly pairedAssessments: readonly PairedAssessment[];
  readonly flow: readonly FlowStep[];
}
