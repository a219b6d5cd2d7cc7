import type { Cell, FindingTable, Measure } from '../finding.ts';
import type { IntervalCensoredBand } from './interval-censored.ts';
import { cellOf } from './measures.ts';

/** The estimates beside each other, and by how many points of a share visit dating falls behind. */
export function shareComparison(
  bands: readonly IntervalCensoredBand[],
  headline: (band: string, week: number) => Measure | undefined,
): FindingTable {
  return {
    key: 'visit-dating-shares',
    title: 'Share of feet corrected: seen at a checkup, and allowing for the time between checkups',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'week', label: 'By week', kind: 'number' },
      { key: 'incidence', label: 'Seen corrected, other ends competing', unit: '%', kind: 'proportion' },
      { key: 'visitDated', label: 'Seen corrected, other ends censored', unit: '%', kind: 'proportion' },
      { key: 'atLeast', label: 'Corrected, at least', unit: '%', kind: 'proportion' },
      { key: 'atMost', label: 'Corrected, at most', unit: '%', kind: 'proportion' },
      { key: 'weibull', label: 'Corrected, Weibull', unit: '%', kind: 'proportion' },
      { key: 'lateAtLeast', label: 'Visit dating misses, at least', unit: 'percentage points', kind: 'time' },
      { key: 'lateAtMost', label: 'Visit dating misses, at most', unit: 'percentage points', kind: 'time' },
    ],
    rows: bands.flatMap(({ band, shares }) =>
      shares.map(({ week, visitDated, atLeast, atMost, weibull }) => ({
        band: band.band,
        week,
        incidence: cellOf(headline(band.band, week)),
        visitDated: cellOf(visitDated),
        atLeast: cellOf(atLeast),
        atMost: cellOf(atMost),
        weibull: cellOf(weibull),
        lateAtLeast: less(atLeast, visitDated, 100),
        lateAtMost: less(atMost, visitDated, 100),
      })),
    ),
    notes: [
      'At least and at most: Turnbull’s interval-censored estimate with each foot straight at the end, or just after the beginning, of the stretch between its checkups. Like the second column they take competing ends as censored; a foot leaves observation at its last uncorrected checkup.',
    ],
  };
}

export function medianComparison(bands: readonly IntervalCensoredBand[]): FindingTable {
  return {
    key: 'visit-dating-medians',
    title: 'Median time to correction: seen at a checkup, and allowing for the time between checkups',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'visitDated', label: 'Visit-dated', unit: 'weeks', kind: 'time' },
      { key: 'atLeast', label: 'Interval-censored, at least', unit: 'weeks', kind: 'time' },
      { key: 'atMost', label: 'Interval-censored, at most', unit: 'weeks', kind: 'time' },
      { key: 'weibull', label: 'Weibull, interval-censored', unit: 'weeks', kind: 'time' },
      { key: 'lateAtLeast', label: 'Visit dating late by, at least', unit: 'weeks', kind: 'time' },
      { key: 'lateAtMost', label: 'Visit dating late by, at most', unit: 'weeks', kind: 'time' },
    ],
    rows: bands.map(({ band, median }) => ({
      band: band.band,
      visitDated: cellOf(median.visitDated),
      atLeast: cellOf(median.atLeast),
      atMost: cellOf(median.atMost),
      weibull: cellOf(median.weibull),
      lateAtLeast: less(median.visitDated, median.atMost),
      lateAtMost: less(median.visitDated, median.atLeast),
    })),
    notes: ['The interval-censored median lies somewhere in the stretch given; the data do not say where.'],
  };
}

function less(more: Measure, fewer: Measure, factor = 1): Cell {
  if (more.estimate === undefined || fewer.estimate === undefined) return undefined;
  return factor * (more.estimate - fewer.estimate);
}
