import { quantileSorted } from 'simple-statistics';
import type { Foot } from '../../cohort/cohort.ts';
import { BANDS } from '../../cohort/cohort.ts';
import { kruskalWallis } from '../../statistics/ranks/index.ts';
import { chiSquareTest } from '../../statistics/tables/index.ts';
import type { Cell, FindingTable, TestResult } from '../finding.ts';
import { countInfants } from '../tools/people.ts';

const DAYS_IN_WEEK = 7;

interface SiteFeet {
  readonly site: string;
  readonly feet: readonly Foot[];
}

/** Feet by site, the largest first, by code where equal. */
export function feetBySite(feet: readonly Foot[]): readonly SiteFeet[] {
  const sites = new Map<string, Foot[]>();
  for (const foot of feet) {
    const held = sites.get(foot.site);
    if (held === undefined) sites.set(foot.site, [foot]);
    else held.push(foot);
  }
  return [...sites]
    .map(([site, own]) => ({ site, feet: own }))
    .sort((a, b) => b.feet.length - a.feet.length || (a.site < b.site ? -1 : 1));
}

/** Whom each site treated: severity bands and age at first fitting. */
export function caseMixTable(sites: readonly SiteFeet[], period: string): FindingTable {
  const share = (feet: readonly Foot[], holds: (foot: Foot) => boolean): Cell => ({
    count: feet.filter(holds).length,
    of: feet.length,
  });
  return {
    key: 'case-mix',
    title: `Feet first fitted in ${period}, by site`,
    columns: [
      { key: 'site', label: 'Site', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      ...BANDS.map(band => ({ key: band, label: band, kind: 'mixed' as const })),
      { key: 'other', label: 'straight or not known', kind: 'mixed' },
      { key: 'age', label: 'Age, median (quartiles)', kind: 'mixed', unit: 'weeks' },
    ],
    rows: sites.map(({ site, feet }) => ({
      site,
      feet: feet.length,
      infants: countInfants(feet),
      ...Object.fromEntries(BANDS.map(band => [band, share(feet, foot => foot.band === band)])),
      other: share(feet, foot => foot.band === 'straight' || foot.band === 'not known'),
      age: quartiles(feet.map(foot => foot.ageAtStartDays / DAYS_IN_WEEK)),
    })),
    notes: ['Sites stand in the order of their size.'],
  };
}

/** Whether sites treat different feet: bands by a chi-square test, age by a rank test; feet taken as independent. */
export function caseMixTests(sites: readonly SiteFeet[]): readonly TestResult[] {
  const bands = {
    key: 'case-mix.band',
    label: 'Severity bands differ between sites',
    method: 'chi-square test of bands by site, feet as independent',
  };
  const ages = {
    key: 'case-mix.age',
    label: 'Age at first fitting differs between sites',
    method: 'Kruskal-Wallis test, feet as independent',
  };
  const state = 'too few';
  const table = bandCounts(sites);
  return [
    table === undefined ? { ...bands, state } : { ...bands, ...testOf(chiSquareTest(table)) },
    sites.length < 2
      ? { ...ages, state }
      : {
          ...ages,
          ...testOf(
            kruskalWallis({
              value: sites.flatMap(({ feet }) => feet.map(foot => foot.ageAtStartDays)),
              group: sites.flatMap(({ site, feet }) => feet.map(() => site)),
            }),
          ),
        },
  ];
}

function testOf(test: {
  readonly statistic: number;
  readonly degreesOfFreedom?: number;
  readonly pValue: number;
}): Pick<TestResult, 'statistic' | 'degreesOfFreedom' | 'pValue'> {
  const { statistic, degreesOfFreedom, pValue } = test;
  return { statistic, pValue, ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }) };
}

/** Sites by bands, without sites that have no banded foot and bands that no site has; at least two of both. */
function bandCounts(sites: readonly SiteFeet[]): readonly (readonly number[])[] | undefined {
  const present = BANDS.filter(band => sites.some(({ feet }) => feet.some(foot => foot.band === band)));
  const rows = sites
    .map(({ feet }) => present.map(band => feet.filter(foot => foot.band === band).length))
    .filter(row => row.some(count => count > 0));
  return rows.length > 1 && present.length > 1 ? rows : undefined;
}

function quartiles(values: readonly number[]): Cell {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  return {
    median: quantileSorted(sorted, 0.5),
    lowerQuartile: quantileSorted(sorted, 0.25),
    upperQuartile: quantileSorted(sorted, 0.75),
  };
}
