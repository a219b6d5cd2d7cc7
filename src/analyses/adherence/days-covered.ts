import { BANDS, type Foot } from '../../cohort/cohort.ts';
import { adherenceOfFoot } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatPercent } from '../../wording/format.ts';
import type { FindingTable, Measure, TraceEntry } from '../finding.ts';
import { clusteredShare } from '../tools/clustered-share.ts';
import { byGroup, countInfants, episodesOf, type OfOneFoot } from '../tools/people.ts';
import { type Quartiles, quartilesOf } from './by-week.ts';

interface CoveredFoot extends OfOneFoot {
  readonly band: string;
  readonly share: number;
}

/** Days covered over days with data, one value a foot, in one group. */
export interface DaysCovered {
  readonly group: string;
  readonly feet: readonly CoveredFoot[];
  readonly quartiles: Quartiles;
  readonly reached: readonly CoveredFoot[];
  readonly shareReached: { readonly estimate: number; readonly lower?: number; readonly upper?: number };
}

/** All feet with data, then by band. */
export function daysCovered(feet: readonly Foot[], plan: Plan): readonly DaysCovered[] {
  const covered = feet.flatMap(foot => {
    const share = foot.wear && adherenceOfFoot(foot.wear, plan).shareCovered;
    const { episode, infant, band } = foot;
    return share === undefined ? [] : [{ episode, infant, band, share }];
  });
  if (covered.length === 0) return [];
  const enough = (foot: CoveredFoot): boolean => foot.share >= plan.adherence.coveredAt - 1e-9;
  return [{ group: 'all', items: covered }, ...byGroup(covered, BANDS, foot => foot.band)].flatMap(
    ({ group, items }) => {
      const shareReached = clusteredShare(items, enough, plan);
      if (shareReached === undefined) return [];
      return [
        {
          group,
          feet: items,
          quartiles: quartilesOf(items.map(foot => foot.share)),
          reached: items.filter(enough),
          shareReached,
        },
      ];
    },
  );
}

export function coveredMeasures(covered: DaysCovered): readonly Measure[] {
  const { group, quartiles, feet } = covered;
  const rests = { group, unit: 'of 1', n: feet.length, infants: countInfants(feet) };
  return [
    {
      key: `daysCovered.median.${group}`,
      label: 'Days covered: median over feet',
      kind: 'proportion',
      ...rests,
      estimate: quartiles.median,
    },
    {
      key: `daysCovered.lowerQuartile.${group}`,
      label: 'Days covered: lower quartile',
      kind: 'proportion',
      ...rests,
      estimate: quartiles.lowerQuartile,
    },
    {
      key: `daysCovered.upperQuartile.${group}`,
      label: 'Days covered: upper quartile',
      kind: 'proportion',
      ...rests,
      estimate: quartiles.upperQuartile,
    },
    {
      key: `daysCovered.reached.${group}`,
      label: 'Feet that reached the share of days covered',
      group,
      kind: 'count',
      unit: 'feet',
      estimate: covered.reached.length,
      infants: countInfants(covered.reached),
    },
    {
      key: `daysCovered.shareReached.${group}`,
      label: 'Share of feet that reached it',
      kind: 'proportion',
      ...rests,
      ...covered.shareReached,
    },
  ];
}

export function coveredTrace(
  groups: readonly DaysCovered[],
  plan: Plan,
): Readonly<Record<string, TraceEntry>> {
  const share = formatPercent(plan.adherence.coveredAt);
  return Object.fromEntries(
    groups.map(({ group, reached }) => [
      `daysCovered.reached.${group}`,
      {
        rule: `${group === 'all' ? 'feet with wear data' : `band ${group}, with wear data`}; at least ${share} of days covered`,
        episodes: episodesOf(reached),
      },
    ]),
  );
}

export function coveredTable(groups: readonly DaysCovered[], plan: Plan): FindingTable {
  const share = formatPercent(plan.adherence.coveredAt);
  return {
    key: 'days-covered',
    title: `Days covered: share of days with data on which at least ${share} of the hours expected were worn`,
    columns: [
      { key: 'group', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet with data', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'covered', label: 'Days covered, median (quartiles)', unit: '%', kind: 'proportion' },
      { key: 'reached', label: `Feet with ${share} of days covered`, kind: 'count' },
      { key: 'share', label: 'Share of feet', unit: '%', kind: 'proportion' },
    ],
    rows: groups.map(({ group, feet, quartiles, reached, shareReached }) => ({
      group,
      feet: feet.length,
      infants: countInfants(feet),
      covered: quartiles,
      reached: reached.length,
      share: shareReached,
    })),
    notes: ['The row for all bands includes feet whose band is not known.'],
  };
}
