// Made from the dictionary by scripts/make-row-types.ts; change the dictionary, not this file.
// The rows of the five tables as the rest of the toolkit reads them. Field names are the dictionary's; a date is a
// whole number of days since 1970-01-01; a missing value is undefined.

export type { WearColumns } from './wear-columns.ts';

export interface EpisodeRow {
  /** Pseudonymous code of the episode. */
  readonly episode_id: string;
  /** Pseudonymous code of the infant, shared by both feet. */
  readonly infant_id: string;
  /** Code of the site that gives the therapy. */
  readonly site_id: string;
  /** Pseudonymous code of the treating clinician. */
  readonly clinician_id: string | undefined;
  /** The treated foot. */
  readonly foot: 'left' | 'right';
  /** Sex of the infant. */
  readonly sex: 'female' | 'male' | 'not recorded' | undefined;
  /** Age at first fitting; worked out from the birth date where only that is given. Unit: days. */
  readonly age_at_start_days: number;
  /** Length of pregnancy at birth, in completed weeks. Unit: weeks. */
  readonly gestational_weeks: number | undefined;
  /** Day of referral to the service. */
  readonly referral_date: number | undefined;
  /** Day of the first fitting: day 0 of the episode. */
  readonly start_date: number;
  /** Last day of therapy; blank while in therapy. */
  readonly end_date: number | undefined;
  /** Why therapy ended; blank while in therapy. */
  readonly end_reason:
    | 'finished'
    | 'referred for casting'
    | 'referred for surgery'
    | 'withdrawn'
    | 'moved away'
    | 'lost to follow-up'
    | undefined;
  /** The parents put the brace on correctly themselves before going home. */
  readonly teach_back: boolean | undefined;
  /** The foot was photographed at baseline. */
  readonly baseline_photo: boolean | undefined;
  /** The shell was opened at the ankle to fit. */
  readonly ankle_opened: boolean | undefined;
  /** The shell was relieved over the great toe to fit. */
  readonly toe_relieved: boolean | undefined;
}

export interface AssessmentRow {
  /** Episode the row belongs to. */
  readonly episode_id: string;
  /** Day of the examination. */
  readonly date: number;
  /** Pseudonymous code of the assessor; two assessors on one day are allowed. */
  readonly assessor_id: string | undefined;
  /** Occasion of the examination. */
  readonly kind: 'baseline' | 'checkup' | 'unscheduled' | 'discharge' | 'follow-up';
  /** Toe that the heel bisector meets, a half being the web before the next toe. */
  readonly bisector_position: number | undefined;
  /** Measured heel bisector angle. Unit: degrees. */
  readonly bisector_angle_degrees: number | undefined;
  /** How far the forefoot can be brought outward by hand. */
  readonly flexibility: 'past straight' | 'to straight' | 'short of straight' | undefined;
  /** There is a crease on the inner side of the foot. */
  readonly medial_crease: boolean | undefined;
  /** What was decided on the prescribed wear. */
  readonly decision:
    | 'start'
    | 'continue'
    | 'step down'
    | 'return to full time'
    | 'finish'
    | 'refer'
    | undefined;
}

export interface PhaseRow {
  /** Episode the row belongs to. */
  readonly episode_id: string;
  /** First day of the spell. */
  readonly start_date: number;
  /** Last day of the spell, the day before the next one starts; blank while current. */
  readonly end_date: number | undefined;
  /** Hours of wear prescribed; must be one of the phases of the plan. Unit: hours a day. */
  readonly prescribed_hours: number;
}

export interface WearRow {
  /** Episode the row belongs to. */
  readonly episode_id: string;
  /** Day of wear. */
  readonly date: number;
  /** Where the hours come from. */
  readonly source: 'sensor' | 'diary' | 'recall';
  /** Hours worn on the day; 0 is a day not worn. Unit: hours. */
  readonly hours_worn: number;
}

export interface EventRow {
  /** Episode the row belongs to. */
  readonly episode_id: string;
  /** Day of the event. */
  readonly date: number;
  /** What happened. */
  readonly kind:
    | 'slight redness'
    | 'strong redness'
    | 'blister'
    | 'pressure sore'
    | 'brace pulled off'
    | 'unplanned pause';
  /** Hours without the brace because of the event. Unit: hours. */
  readonly hours_off: number | undefined;
  /** Day on which a clinician saw the foot because of the event. */
  readonly review_date: number | undefined;
  /** What brought it about. */
  readonly cause: 'strap too tight' | 'poor fit' | 'sock fold' | 'not known' | undefined;
}

export const WEAR_SOURCES = ['sensor', 'diary', 'recall'] as const;
