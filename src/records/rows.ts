// The rows of the five tables as the rest of the toolkit reads them. Field names are the dictionary's; a date is a
// whole number of days since 1970-01-01; a missing value is undefined.

export interface EpisodeRow {
  readonly episode_id: string;
  readonly infant_id: string;
  readonly site_id: string;
  readonly clinician_id: string | undefined;
  readonly foot: 'left' | 'right';
  readonly sex: 'female' | 'male' | 'not recorded' | undefined;
  /** Given, or reckoned at load from the birth date, which is then dropped. */
  readonly age_at_start_days: number;
  readonly gestational_weeks: number | undefined;
  readonly referral_date: number | undefined;
  readonly start_date: number;
  readonly end_date: number | undefined;
  readonly end_reason:
    | 'finished'
    | 'referred for casting'
    | 'referred for surgery'
    | 'withdrawn'
    | 'moved away'
    | 'lost to follow-up'
    | undefined;
  readonly teach_back: boolean | undefined;
  readonly baseline_photo: boolean | undefined;
  readonly ankle_opened: boolean | undefined;
  readonly toe_relieved: boolean | undefined;
}

export interface AssessmentRow {
  readonly episode_id: string;
  readonly date: number;
  readonly assessor_id: string | undefined;
  readonly kind: 'baseline' | 'checkup' | 'unscheduled' | 'discharge' | 'follow-up';
  readonly bisector_position: number | undefined;
  readonly bisector_angle_degrees: number | undefined;
  readonly flexibility: 'past straight' | 'to straight' | 'short of straight' | undefined;
  readonly medial_crease: boolean | undefined;
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
  readonly episode_id: string;
  readonly start_date: number;
  readonly end_date: number | undefined;
  readonly prescribed_hours: number;
}

export interface EventRow {
  readonly episode_id: string;
  readonly date: number;
  readonly kind:
    | 'slight redness'
    | 'strong redness'
    | 'blister'
    | 'pressure sore'
    | 'brace pulled off'
    | 'unplanned pause';
  readonly hours_off: number | undefined;
  readonly review_date: number | undefined;
  readonly cause: 'strap too tight' | 'poor fit' | 'sock fold' | 'not known' | undefined;
}

export interface WearRow {
  readonly episode_id: string;
  readonly date: number;
  readonly source: 'sensor' | 'diary' | 'recall';
  readonly hours_worn: number;
}

/** The wear log by column, for it is long: row i is `hours[i]` worn on `date[i]` by `episodes[episode[i]]`. */
export interface WearColumns {
  readonly episodes: readonly string[];
  readonly episode: Int32Array;
  readonly date: Int32Array;
  /** Place in `WEAR_SOURCES`. */
  readonly source: Uint8Array;
  readonly hours: Float64Array;
}

export const WEAR_SOURCES = ['sensor', 'diary', 'recall'] as const;
