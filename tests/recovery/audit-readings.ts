import type { Finding } from '../../src/analyses/index.ts';
import { fromIsoDate, quarterOf } from '../../src/synthetic/calendar.ts';
import type { Change } from '../../src/synthetic/scenario-records.ts';
import type { Scenario } from '../../src/synthetic/index.ts';

/** One thing that an audit says or does not say. */
export interface AuditReading {
  readonly kind: 'verdict' | 'chart' | 'site';
  /** Key of the standard or of the chart. */
  readonly measure: string;
  /** Code of a site; of other readings empty. */
  readonly site: string;
  readonly reading:
    | 'met'
    | 'not met'
    | 'signal'
    | 'signal in the quarters of the change'
    | 'outside 95 %'
    | 'outside 99.8 %';
  readonly said: boolean;
}

/** Stands for all charts in which nothing was planted: a signal in at least one of them. */
export const UNPLANTED_CHARTS = 'any chart without a planted change';

/** The chart in which a change of the scenario should be seen. */
const CHART_OF: Readonly<Record<Change['what'], string>> = {
  'teach-back': 'teach-back',
  'second checkup delay': 'second-checkup',
  'skin events': 'skin-rate',
};

/** Charts with a change behind them. */
export function plantedCharts(scenario: Scenario): ReadonlySet<string> {
  return new Set(scenario.changes.map(change => CHART_OF[change.what]));
}

/** What the audit of one export says: verdicts of its last full quarter, charts, and sites in their funnels. */
export function auditReadings(findings: readonly Finding[], scenario: Scenario): readonly AuditReading[] {
  return findings.flatMap(finding => [...verdicts(finding), ...charts(finding, scenario), ...sites(finding)]);
}

function verdicts({ standards }: Finding): readonly AuditReading[] {
  return (standards ?? [])
    .filter(({ n }) => n > 0)
    .flatMap(({ key, verdict }) =>
      (['met', 'not met'] as const).map(reading => ({
        kind: 'verdict' as const,
        measure: key,
        site: '',
        reading,
        said: verdict === reading,
      })),
    );
}

function charts({ quarterCharts }: Finding, scenario: Scenario): readonly AuditReading[] {
  if (quarterCharts === undefined || quarterCharts.length === 0) return [];
  const planted = plantedCharts(scenario);
  const first = quarterOf(fromIsoDate(scenario.cohort.start));
  const of = (measure: string, reading: AuditReading['reading'], said: boolean): AuditReading => ({
    kind: 'chart',
    measure,
    site: '',
    reading,
    said,
  });
  const each = quarterCharts.map(chart => {
    const places = [...chart.signals, ...chart.shifts].map(({ place }) => place);
    return { key: chart.key, quarters: places.map(place => numberOf(chart.quarters[place] ?? '') - first) };
  });
  return [
    ...each.flatMap(({ key, quarters }) => [
      of(key, 'signal', quarters.length > 0),
      ...(planted.has(key)
        ? [
            of(
              key,
              'signal in the quarters of the change',
              quarters.some(q => changed(scenario, key, q)),
            ),
          ]
        : []),
    ]),
    of(
      UNPLANTED_CHARTS,
      'signal',
      each.some(({ key, quarters }) => !planted.has(key) && quarters.length > 0),
    ),
  ];
}

function changed({ changes }: Scenario, chart: string, quarter: number): boolean {
  return changes.some(
    change =>
      CHART_OF[change.what] === chart &&
      quarter >= change.fromQuarter &&
      (change.lasts || quarter <= change.toQuarter),
  );
}

/** `2025-Q4` as a number that counts quarters. */
function numberOf(name: string): number {
  const [year, quarter] = name.split('-Q').map(Number);
  if (year === undefined || quarter === undefined) throw new RangeError(`${name} names no quarter`);
  return 4 * year + quarter - 1;
}

function sites({ funnels }: Finding): readonly AuditReading[] {
  return (funnels ?? []).flatMap(({ key, units }) =>
    units
      .filter(({ kind }) => kind === 'site')
      .flatMap(({ code, beyond }) => [
        {
          kind: 'site' as const,
          measure: key,
          site: code,
          reading: 'outside 95 %' as const,
          said: beyond !== undefined,
        },
        {
          kind: 'site' as const,
          measure: key,
          site: code,
          reading: 'outside 99.8 %' as const,
          said: beyond?.limit === '99.8 %',
        },
      ]),
  );
}
