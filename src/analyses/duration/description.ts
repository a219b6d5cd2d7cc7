import type { Plan } from '../../plan/plan.ts';
import { medianFollowUp, survivalQuantile } from '../../statistics/survival/index.ts';
import type { Curve, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { weekTicks } from '../tools/week-ticks.ts';
import { cellOf } from '../tools/cells.ts';
import {
  climbingCurve,
  clusterOf,
  DAYS_IN_WEEK,
  fallingCurve,
  incidenceByDay,
  weeks,
  withLimits,
} from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { type BandDuration, DURATION_CAUSES, type DurationFollowUp, finishedOf } from './follow-up.ts';

const QUARTILES = [
  { key: 'lower-quartile', label: 'Time by which a quarter had finished', share: 0.25 },
  { key: 'median', label: 'Median total duration', share: 0.5 },
  { key: 'upper-quartile', label: 'Time by which three quarters had finished', share: 0.75 },
] as const;

const CAUSE_LABELS = ['Censored', 'Finished', 'Referred', 'Withdrawn'] as const;

/** Counts, quartiles of the duration, shares finished by week and median follow-up of one band. */
export function describingMeasures(band: BandDuration, plan: Plan): readonly Measure[] {
  const { items } = band;
  const rests = {
    group: band.band,
    n: items.length,
    infants: countInfants(items),
    events: finishedOf(items).length,
  };
  return [
    countMeasure('feet', 'Feet', band.band, items),
    ...DURATION_CAUSES.map((cause, code) =>
      countMeasure(
        cause,
        CAUSE_LABELS[code] ?? cause,
        band.band,
        items.filter(item => item.cause === code),
      ),
    ),
    ...QUARTILES.map(({ key, label, share }): Measure => {
      const common = { key: `${key}.${band.band}`, label, kind: 'time' as const, unit: 'weeks', ...rests };
      return { ...common, ...inWeeks(survivalQuantile(band.survival, share), 'not reached') };
    }),
    ...plan.duration.reportWeeks.map(
      (week): Measure => ({
        key: `finished.week${week}.${band.band}`,
        label: `Finished by week ${week}`,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...incidenceByDay(band.incidence, week * DAYS_IN_WEEK),
      }),
    ),
    followUpMeasure(band.band, items, plan),
  ];
}

/** Median follow-up by the reverse Kaplan-Meier curve: censoring is the event, any end of therapy censors it. */
export function followUpMeasure(group: string, items: readonly DurationFollowUp[], plan: Plan): Measure {
  const common = {
    key: `follow-up.${group}`,
    label: 'Median follow-up',
    group,
    kind: 'time' as const,
    unit: 'weeks',
    n: items.length,
    infants: countInfants(items),
  };
  if (items.length === 0) return { ...common, state: 'no data' };
  const median = medianFollowUp(
    {
      time: items.map(item => item.day),
      event: items.map(item => item.cause > 0),
      ...clusterOf(items, plan),
    },
    { level: plan.level },
  );
  return { ...common, ...inWeeks(median, 'not reached') };
}

interface Quantile {
  readonly estimate: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

function inWeeks({ estimate, lower, upper }: Quantile, state: string) {
  if (estimate === undefined) return { state };
  const shown = (day: number | undefined) => (day === undefined ? undefined : weeks(day));
  return withLimits(weeks(estimate), shown(lower), shown(upper));
}

export function countMeasure(
  key: string,
  label: string,
  group: string,
  items: readonly DurationFollowUp[],
): Measure {
  return {
    key: `${key}.${group}`,
    label,
    group,
    kind: 'count',
    unit: 'feet',
    estimate: items.length,
    infants: countInfants(items),
  };
}

export function describingTrace(bands: readonly BandDuration[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const { band, items } of bands) {
    entries[`feet.${band}`] = traceFeet(`severity band ${band} at baseline`, items);
    for (const [code, cause] of DURATION_CAUSES.entries()) {
      entries[`${cause}.${band}`] = traceFeet(
        `severity band ${band}; therapy ended as: ${cause}`,
        items.filter(item => item.cause === code),
      );
    }
  }
  return entries;
}

export function durationCurves(band: BandDuration, plan: Plan): readonly Curve[] {
  const ticks = weekTicks(plan);
  return [
    climbingCurve(
      { key: `incidence.${band.band}`, group: band.band, measure: 'Feet that finished therapy' },
      band.items,
      band.incidence,
      ticks,
    ),
    fallingCurve(
      { key: `in-therapy.${band.band}`, group: band.band, measure: 'Feet that have not finished therapy' },
      band.items,
      band.survival,
      ticks,
    ),
  ];
}

export function courseTable(bands: readonly BandDuration[], measures: readonly Measure[]): FindingTable {
  const find = (key: string): Measure | undefined => measures.find(measure => measure.key === key);
  return {
    key: 'course',
    title: 'How therapy ended, and how long it took, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      ...[1, 2, 3, 0].map(code => ({
        key: DURATION_CAUSES[code] ?? '',
        label: CAUSE_LABELS[code] ?? '',
        kind: 'count' as const,
      })),
      { key: 'lower-quartile', label: 'A quarter finished', unit: 'weeks', kind: 'time' },
      { key: 'median', label: 'Half finished', unit: 'weeks', kind: 'time' },
      { key: 'upper-quartile', label: 'Three quarters finished', unit: 'weeks', kind: 'time' },
      { key: 'follow-up', label: 'Median follow-up', unit: 'weeks', kind: 'time' },
    ],
    rows: bands.map(({ band, items }) => ({
      band,
      feet: items.length,
      infants: countInfants(items),
      ...Object.fromEntries(
        DURATION_CAUSES.map((cause, code) => [cause, items.filter(item => item.cause === code).length]),
      ),
      ...Object.fromEntries(
        [...QUARTILES.map(({ key }) => key), 'follow-up'].map(key => [key, cellOf(find(`${key}.${band}`))]),
      ),
    })),
    notes: [
      'Times from the Kaplan–Meier curve, in which referred and withdrawn feet are censored.',
      'Follow-up by the reverse Kaplan–Meier curve: how long feet would have been followed had none ended therapy.',
    ],
  };
}

export function finishedTable(bands: readonly BandDuration[], plan: Plan): FindingTable {
  return {
    key: 'finished',
    title: 'Feet that had finished therapy by week, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      ...plan.duration.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `By week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: bands.map(({ band, items, incidence }) => ({
      band,
      feet: items.length,
      ...Object.fromEntries(
        plan.duration.reportWeeks.map(week => [
          `week${week}`,
          incidenceByDay(incidence, week * DAYS_IN_WEEK),
        ]),
      ),
    })),
    notes: ['Cumulative incidence; referral and withdrawal compete with finishing.'],
  };
}
