import type { EndReason } from '../plan/plan.ts';
import type { Findings } from './findings.ts';
import type { FootState } from './foot-state.ts';
import type { LatentFoot, LatentInfant } from './infant.ts';
import type { SkinRates, SkinRecord } from './skin.ts';
import type { Stream } from './streams.ts';
import type { Decision } from './therapist.ts';

export interface VisitRecord {
  readonly day: number;
  readonly kind: 'baseline' | 'checkup' | 'unscheduled' | 'discharge' | 'follow-up';
  /** Place of the clinician among those of the site. */
  readonly assessor: number;
  readonly findings: Findings;
  readonly decision: Decision | undefined;
}

/** A drift back that began, and the step-down it followed (its place among the step-downs of the foot). */
export interface RelapseOnset {
  readonly stepDown: number;
  readonly day: number;
}

export interface StepDownRecord {
  readonly day: number;
  readonly fromHours: number;
  /** 0: therapy finished. */
  readonly toHours: number;
  /** 0 consolidated, 1 on the day of correction, more before it. */
  readonly earliness: number;
}

/** All that happened to a foot, whatever the data cut-off. Days are since first fitting. */
export interface FootCourse {
  readonly latent: LatentFoot;
  readonly visits: VisitRecord[];
  readonly spells: { readonly startDay: number; readonly hours: number }[];
  readonly stepDowns: StepDownRecord[];
  readonly onsets: RelapseOnset[];
  readonly events: SkinRecord[];
  /** Tenths of an hour truly worn, from day 0. */
  readonly worn: number[];
  /** First day on which an examination would find the foot corrected; undefined: not in therapy. */
  correctedDay: number | undefined;
  /** Hours worn until then. */
  correctedHours: number | undefined;
  endDay: number | undefined;
  endReason: EndReason | undefined;
  /** False: the family was lost and nobody closed the episode. */
  closed: boolean;
}

export interface InfantCourse {
  readonly infant: LatentInfant;
  readonly feet: readonly FootCourse[];
}

/** What a foot carries from day to day in the simulation. */
export interface FootRun {
  readonly course: FootCourse;
  readonly state: FootState;
  readonly random: {
    readonly examine: Stream;
    readonly therapist: Stream;
    readonly wear: Stream;
    readonly skin: Stream;
    readonly relapse: Stream;
  };
  rates: SkinRates;
  hours: number;
  phaseStart: number;
  returned: boolean;
  /** Position seen at the last step-down. */
  reference: number;
  /** exp of the terms of the relapse hazard fixed at the last step-down; 0 while there is none to relapse from. */
  relapseFactor: number;
  strapTight: boolean;
  hoursOff: number;
  totalTenths: number;
  unscheduledDay: number | undefined;
  followUps: readonly number[];
}
