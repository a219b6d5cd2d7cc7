export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

/** One site or clinician of a funnel, by its code. */
export interface FunnelUnit {
  readonly kind: 'site' | 'clinician';
  readonly code: string;
  /** Of a clinician all of whose feet are at one site; not published. */
  readonly site?: string;
  readonly count: number;
  readonly n: number;
  readonly value: number;
  /** The shares that are still within, at its size: their counts are those no less probable than the limit. */
  readonly inner: Limits;
  readonly outer: Limits;
  /** Beyond which limit it lies, if any. */
  readonly beyond?: { readonly limit: '95 %' | '99.8 %'; readonly side: 'above' | 'below' };
}

/** Sites and clinicians on one standard against its limits at their size; units by size, never by result. */
export interface UnitFunnel {
  readonly key: string;
  readonly title: string;
  readonly direction: 'at least' | 'under';
  readonly centre: number;
  readonly centreIs: 'overall' | 'target';
  readonly units: readonly FunnelUnit[];
  /** Limits along the axis of size, for drawing: exact ones, smoothed between counts. */
  readonly limits: readonly { readonly n: number; readonly inner: Limits; readonly outer: Limits }[];
  /** Mean squared distance from the centre in standard errors, by kind of unit: about 1 where chance alone is at work. */
  readonly dispersion: { readonly site?: number; readonly clinician?: number };
}
