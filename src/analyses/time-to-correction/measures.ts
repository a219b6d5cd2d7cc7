import { CORRECTION_CAUSES } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { survivalQuantile } from '../../statistics/survival/index.ts';
import type { Cell, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { incidenceByDay, withLimits } from '../tools/curves.ts';
import { countInfants, episodesOf } from '../tools/people.ts';
import type { Scale } from './scales.ts';
import { type BandResult, type CorrectionFollowUp, corrections } from './follow-up.ts';

export const QUARTILES = [
  { key: 'lower-quartile', label: 'Time by which a quarter was seen corrected', share: 0.25 },
  { key: 'median', label: 'Median time to correction', share: 0.5 },
  { key: 'upper-quartile', label: 'Time by which three quarters were seen corrected', share: 0.75 },
] as const;

/** Median and quartiles of the visit-dated curve of a band; `not reached` where the curve does not get there. */
export function quartileMeasures(band: BandResult, scale: Scale): readonly Measure[] {
  return QUARTILES.map(({ key, label, share }) => {
    const { estimate, lower, upper } = survivalQuantile(band.survival, share);
    const rests = {
      key: `${scale.prefix}${key}.${band.band}`,
      label,
      group: band.band,
      kind: 'time' as const,
      unit: scale.unit,
      n: band.items.length,
      infants: countInfants(band.items),
      events: corrections(band.items),
    };
    if (estimate === undefined) return { ...rests, state: 'not reached' };
    const inUnits = (time: number | undefined) => (time === undefined ? undefined : time / scale.size);
    return { ...rests, ...withLimits(estimate / scale.size, inUnits(lower), inUnits(upper)) };
  });
}

/** Cumulative incidence of correction by given points, in units of the axis. */
export function shareMeasures(band: BandResult, points: readonly number[], scale: Scale): readonly Measure[] {
  return points.map(point => ({
    key: `${scale.prefix}corrected.${scale.momentKey(point)}.${band.band}`,
    label: `Seen corrected by ${scale.moment(point)}`,
    group: band.band,
    kind: 'proportion',
    unit: 'of 1',
    n: band.items.length,
    infants: countInfants(band.items),
    ...incidenceByDay(band.incidence, point * scale.size),
  }));
}

/** Feet of a band, and how their follow-up ended. */
export function countMeasures({ band, items }: BandResult): readonly Measure[] {
  const count = (key: string, label: string, counted: readonly CorrectionFollowUp[]): Measure => ({
    key: `${key}.${band}`,
    label,
    group: band,
    kind: 'count',
    unit: 'feet',
    estimate: counted.length,
    infants: countInfants(counted),
  });
  return [
    count('feet', 'Feet', items),
    ...CORRECTION_CAUSES.map((cause, code) =>
      count(
        cause,
        code === 0 ? 'Still uncorrected when last followed' : `End: ${cause}`,
        items.filter(item => item.cause === code),
      ),
    ),
  ];
}

export function countTrace(bands: readonly BandResult[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const { band, items } of bands) {
    entries[`feet.${band}`] = { rule: `severity band ${band} at baseline`, episodes: episodesOf(items) };
    for (const [code, cause] of CORRECTION_CAUSES.entries()) {
      entries[`${cause}.${band}`] = {
        rule: `severity band ${band}; follow-up for correction ended as: ${cause}`,
        episodes: episodesOf(items.filter(item => item.cause === code)),
      };
    }
  }
  return entries;
}

/** An estimate with its limits, or the name of what stands in its place. */
export function cellOf(measure: Measure | undefined): Cell {
  if (measure?.estimate === undefined) return measure?.state;
  return withLimits(measure.estimate, measure.lower, measure.upper);
}

export function courseTable(bands: readonly BandResult[]): FindingTable {
  return {
    key: 'course',
    title: 'How follow-up for correction ended, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'corrected', label: 'Corrected', kind: 'count' },
      { key: 'referred', label: 'Referred', kind: 'count' },
      { key: 'withdrawn', label: 'Withdrawn', kind: 'count' },
      { key: 'finished uncorrected', label: 'Finished uncorrected', kind: 'count' },
      { key: 'censored', label: 'Censored', kind: 'count' },
    ],
    rows: bands.map(({ band, items }) => ({
      band,
      feet: items.length,
      infants: countInfants(items),
      ...Object.fromEntries(
        CORRECTION_CAUSES.map((cause, code) => [cause, items.filter(item => item.cause === code).length]),
      ),
    })),
    notes: [],
  };
}

export function shareTable(bands: readonly BandResult[], plan: Plan, scale: Scale): FindingTable {
  const points = scale.prefix === '' ? plan.correction.reportWeeks : plan.correction.reportHundredHours;
  return {
    key: `${scale.prefix}corrected`,
    title:
      scale.prefix === ''
        ? 'Feet seen corrected by week, by severity band'
        : 'Feet seen corrected by hours worn, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      ...points.map(point => ({
        key: scale.momentKey(point),
        label: `By ${scale.moment(point)}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: bands.map(({ band, items, incidence }) => ({
      band,
      feet: items.length,
      ...Object.fromEntries(
        points.map(point => [scale.momentKey(point), incidenceByDay(incidence, point * scale.size)]),
      ),
    })),
    notes: ['Cumulative incidence; referral, withdrawal and finishing uncorrected compete with correction.'],
  };
}

/** Weeks, or hours worn, until a quarter, half and three quarters of the feet were seen corrected. */
export function quartileTable(
  bands: readonly BandResult[],
  measures: readonly Measure[],
  scale: Scale,
  notes: readonly string[],
): FindingTable {
  return {
    key: `${scale.prefix}quartiles`,
    title: `${scale.prefix === '' ? 'Time' : 'Hours worn'} until feet were seen corrected, by severity band`,
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'lower-quartile', label: 'A quarter corrected', unit: scale.unit, kind: 'time' },
      { key: 'median', label: 'Half corrected', unit: scale.unit, kind: 'time' },
      { key: 'upper-quartile', label: 'Three quarters corrected', unit: scale.unit, kind: 'time' },
    ],
    rows: bands.map(({ band, items }) => ({
      band,
      feet: items.length,
      ...Object.fromEntries(
        QUARTILES.map(({ key }) => [
          key,
          cellOf(measures.find(found => found.key === `${scale.prefix}${key}.${band}`)),
        ]),
      ),
    })),
    notes: ['From the visit-dated Kaplan–Meier curve, in which competing ends are censored.', ...notes],
  };
}
