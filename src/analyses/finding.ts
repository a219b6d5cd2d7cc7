import type { CourseSample } from './courses.ts';
import type { MeanCountCurve } from './mean-count-curve.ts';
import type { OccupancyShares } from './occupancy-shares.ts';
import type { Plot } from './plots.ts';
import type { QuarterChart } from './quarter-chart.ts';
import type { StandardResult } from './standard-result.ts';
import type { UnitFunnel } from './unit-funnel.ts';
import type { Count } from '../wording/hidden-count.ts';

export type { Count, HiddenCount } from '../wording/hidden-count.ts';

/** The stretch of time that a finding is about. Days are since 1970-01-01, both included. */
export interface Period {
  /** Such as `2026-Q3`. */
  readonly name: string;
  readonly firstDay: number;
  readonly lastDay: number;
}

/** A number that a reader may quote, or the named reason why there is none. */
export interface Measure {
  /** Unique within the finding, such as `median.severe`. */
  readonly key: string;
  readonly label: string;
  /** The group it belongs to (a band, a step), if any. */
  readonly group?: string;
  readonly kind: 'count' | 'proportion' | 'rate' | 'time' | 'ratio' | 'difference' | 'correlation' | 'number';
  /** `weeks`, `per 100 foot-weeks`, `feet`; proportions are fractions and have the unit `of 1`. */
  readonly unit: string;
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
  /** Why there is no estimate: `not reached`, `too few`, `no data`, `did not converge`. */
  readonly state?: string;
  /** Feet (or step-downs) the number rests on, and their infants. */
  readonly n?: Count;
  readonly infants?: Count;
  readonly events?: Count;
}

/** A step curve with pointwise limits, starting at time 0. Limits are absent where not available. */
export interface Curve {
  readonly key: string;
  readonly group: string;
  /** The phrase for the axis, such as `Feet corrected`. */
  readonly measure: string;
  /** Whether the curve starts at 0 and climbs, or starts at 1 and falls. */
  readonly direction: 'climbs' | 'falls';
  readonly timeUnit: 'weeks' | 'hundred hours';
  readonly time: readonly number[];
  readonly estimate: readonly number[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
  /** At risk just before each tick, and those who had the event, a competing end, or were censored before it: the four add up to n at every tick. */
  readonly riskTable: {
    readonly time: readonly number[];
    readonly atRisk: readonly Count[];
    readonly events: readonly Count[];
    readonly censored: readonly Count[];
    readonly competing: readonly Count[];
  };
  readonly n: Count;
  readonly infants: Count;
  /**
   * Times at which the height as drawn is that of the estimate, where steps were joined so that no small number shows; a
   * height may be put into words at these alone. Left out: at all.
   */
  readonly quotable?: readonly number[];
  /** Events at each time and at risk just before it, from which disclosure control coarsens the steps; never published. */
  readonly steps?: { readonly events: readonly number[]; readonly atRisk: readonly number[] };
}

export interface TestResult {
  readonly key: string;
  readonly label: string;
  /** The method in words, such as `log-rank test across bands, feet as independent`. */
  readonly method: string;
  readonly statistic?: number;
  readonly degreesOfFreedom?: number;
  readonly pValue?: number;
  readonly state?: string;
}

/** One line of a forest: a ratio with its interval beside the group it is compared with, or why there is none. */
export interface Effect {
  /** Unique within the finding, such as `cox.band.severe`. */
  readonly key: string;
  /** The model or comparison that the line belongs to; lines of one panel are drawn together. */
  readonly panel: string;
  readonly label: string;
  readonly kind: 'ratio' | 'difference';
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
  /** What it is compared with, such as `mild`, or the unit of a number, such as `4 weeks older`. */
  readonly reference: string;
  /** Why there is no estimate: `did not converge`, `separated`, `too few corrections`. */
  readonly state?: string;
  readonly n?: Count;
  readonly events?: Count;
}

/** A cell holds a text, a number, an estimate with its interval, a share, a median with quartiles, or nothing. */
export type Cell =
  | string
  | number
  | undefined
  | {
      readonly estimate: number;
      readonly lower?: number;
      readonly upper?: number;
      /** Where the rows of a column of kind `mixed` are of different kinds. */
      readonly kind?: Measure['kind'];
    }
  | { readonly count: number; readonly of: number }
  | { readonly median: number; readonly lowerQuartile: number; readonly upperQuartile: number };

export interface TableColumn {
  readonly key: string;
  readonly label: string;
  readonly unit?: string;
  /** `mixed`: each cell by its own shape, numbers as counts. */
  readonly kind:
    | 'text'
    | 'count'
    | 'proportion'
    | 'percent of n'
    | 'rate'
    | 'time'
    | 'ratio'
    | 'number'
    | 'p-value'
    | 'mixed';
}

export interface FindingTable {
  readonly key: string;
  readonly title: string;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly Readonly<Record<string, Cell>>[];
  readonly notes: readonly string[];
}

/** Feet that a question could not use, and why. */
export interface LeftOut {
  readonly reason: string;
  readonly feet: Count;
  readonly infants: Count;
}

/**
 * The answer to one clinical question as a plain JSON document: all that a report says about it comes from here.
 * It holds no episode or infant code, and a clinician's only in `funnels`, where the plan's minimum of feet is reached.
 */
export interface Finding {
  readonly key: string;
  readonly version: 1;
  readonly question: string;
  /** The answer in one or two plain sentences, every number with its interval. */
  readonly statement: string;
  readonly population: {
    readonly feet: Count;
    readonly infants: Count;
    readonly leftOut: readonly LeftOut[];
  };
  readonly measures: readonly Measure[];
  readonly curves: readonly Curve[];
  readonly tests: readonly TestResult[];
  /** Lines of a forest, for findings with model terms. */
  readonly effects?: readonly Effect[];
  /** Mean numbers of events over time, for findings on events that can happen again. */
  readonly meanCounts?: readonly MeanCountCurve[];
  /** Shares of feet in each state by week, for a figure of stacked areas. */
  readonly occupancy?: readonly OccupancyShares[];
  /** Courses of single feet, for a figure of some of them; not for publishing where small numbers are hidden. */
  readonly courses?: CourseSample;
  /** Residuals and fits, for findings that check a model. */
  readonly plots?: readonly Plot[];
  /** The quarter, for findings of the audit. */
  readonly period?: Period;
  /** Audit standards against their targets. */
  readonly standards?: readonly StandardResult[];
  /** Control charts over quarters. */
  readonly quarterCharts?: readonly QuarterChart[];
  /** Sites and clinicians side by side. */
  readonly funnels?: readonly UnitFunnel[];
  readonly tables: readonly FindingTable[];
  /** What was done, each with the keys of the works cited (see citations.ts). */
  readonly methods: readonly { readonly text: string; readonly cites: readonly string[] }[];
  /** What limits the answer, in plain words. */
  readonly cautions: readonly string[];
}

/** The episodes behind a count and the rule that put them there; for the desk, never published. */
export interface TraceEntry {
  readonly rule: string;
  readonly episodes: readonly string[];
  /** Where not feet are counted: how many step-downs, spells or events each of the episodes has among them. */
  readonly times?: readonly number[];
}

/** What an analysis gives: the finding, and what is behind each of its counts, by measure key. */
export interface Analysis {
  readonly finding: Finding;
  readonly trace: Readonly<Record<string, TraceEntry>>;
}
