// Every count of every finding of the sample export has behind it as many episodes, step-downs, spells or events as the
// count says.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Analysis,
  analyseAudit,
  analyseDuration,
  analyseExport,
  type TraceEntry,
} from '../../src/analyses/index.ts';
import { buildCohort, type Cohort } from '../../src/cohort/index.ts';
import { countsBehind } from '../../src/cli/counts-behind.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';

const plan = defaultPlan();

describe('the trace of every count in the findings of the sample export', () => {
  let analyses: readonly Analysis[] = [];
  let cohort: Cohort;
  let infantOf: ReadonlyMap<string, string> = new Map();

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
    const records = await readExport(folder, { plan });
    cohort = buildCohort(records, plan);
    analyses = [
      ...analyseExport(records, plan, cohort),
      ...analyseDuration(cohort, plan),
      ...analyseAudit(cohort, plan),
    ];
    infantOf = new Map(cohort.feet.map(foot => [foot.episode, foot.infant]));
  }, 120_000);

  const counts = () =>
    analyses.flatMap(({ finding, trace }) =>
      finding.measures
        .filter(measure => measure.kind === 'count' && measure.estimate !== undefined)
        .map(measure => ({ key: `${finding.key}/${measure.key}`, measure, entry: trace[measure.key] })),
    );

  it('is there', () => {
    expect(counts().length).toBeGreaterThan(100);
    expect(
      counts()
        .filter(({ entry }) => entry === undefined)
        .map(({ key }) => key),
    ).toEqual([]);
  });

  it('adds up to the count, and to its infants', () => {
    const wrong = counts().filter(({ measure, entry }) => {
      if (entry === undefined) return true;
      const { episodes, times } = entry;
      const infants = new Set(episodes.map(episode => infantOf.get(episode))).size;
      if (measure.infants !== undefined && measure.infants !== infants) return true;
      if (measure.unit === 'infants') return infants !== measure.estimate;
      const listed = times === undefined ? episodes.length : times.reduce((sum, number) => sum + number, 0);
      return listed !== measure.estimate || (times !== undefined && times.length !== episodes.length);
    });
    expect(wrong.map(({ key, measure }) => `${key}: ${measure.estimate ?? ''} ${measure.unit}`)).toEqual([]);
  });

  const listed = ({ episodes, times }: TraceEntry): number =>
    times === undefined ? episodes.length : times.reduce((sum, number) => sum + number, 0);
  const infantsOf = ({ episodes }: TraceEntry): number =>
    new Set(episodes.map(episode => infantOf.get(episode))).size;

  it('lists the feet analysed and left out by every finding of the three reports', () => {
    expect(analyses).toHaveLength(17);
    for (const { finding, trace } of analyses) {
      const { feet, infants, leftOut } = finding.population;
      const groups = [
        { key: 'analysed', feet, infants },
        ...leftOut.map(group => ({ ...group, key: `leftOut.${group.reason}` })),
      ];
      for (const group of groups) {
        const entry = trace[group.key] ?? { rule: '', episodes: [] };
        expect({ feet: listed(entry), infants: infantsOf(entry) }, `${finding.key}, ${group.key}`).toEqual({
          feet: group.feet,
          infants: group.infants,
        });
      }
      // No foot is analysed and left out.
      const used = new Set(trace.analysed?.episodes);
      const both = leftOut.flatMap(
        ({ reason }) => trace[`leftOut.${reason}`]?.episodes.filter(episode => used.has(episode)) ?? [],
      );
      expect(both, finding.key).toEqual([]);
    }
  });

  it('names what is behind the n and the events of every measure and ratio', () => {
    let lists = 0;
    let words = 0;
    const nothing = analyses.flatMap(analysis =>
      [...analysis.finding.measures, ...(analysis.finding.effects ?? [])]
        .filter(({ kind }) => kind !== 'count')
        .flatMap(item =>
          countsBehind(analysis, item).flatMap(({ part, count, keys, derived }) => {
            if (derived === undefined) lists++;
            else words++;
            for (const key of keys) {
              const entry = analysis.trace[key.slice(analysis.finding.key.length + 1)];
              expect(entry === undefined ? undefined : listed(entry), key).toBe(count);
            }
            return derived === undefined && keys.length === 0
              ? [`${analysis.finding.key}/${item.key}, ${part}: ${count}`]
              : [];
          }),
        ),
    );
    expect(nothing).toEqual([]);
    expect(lists).toBeGreaterThan(800);
    expect(words).toBeGreaterThan(200);
  });

  it('lists the feet of every state, mean count and curve with their infants', () => {
    const nothing = analyses.flatMap(({ finding, trace }) =>
      [...finding.curves, ...(finding.occupancy ?? []), ...(finding.meanCounts ?? [])].flatMap(
        ({ key, group, n, infants }) => {
          const elsewhere = finding.key === 'relapse-after-step-down' ? baselineTrace() : {};
          const found = Object.entries({ ...elsewhere, ...trace }).some(
            ([at, entry]) =>
              (at === 'analysed' || at.includes(`.${group}`) || at.endsWith('.all')) &&
              listed(entry) === n &&
              infantsOf(entry) === infants,
          );
          return found ? [] : [`${finding.key}, ${key}: ${String(n)}`];
        },
      ),
    );
    expect(nothing).toEqual([]);
  });

  const baselineTrace = () => analyses.find(({ finding }) => finding.key === 'baseline')?.trace ?? {};
  const traceOf = (key: string, of = analyses) => of.find(({ finding }) => finding.key === key)?.trace ?? {};

  it('lists what fell due and was met under every standard, at every site and clinician, in every quarter shown', () => {
    const named = (key: string) => analyses.find(({ finding }) => finding.key === key)?.finding;
    for (const { key, count, n, infants, direction } of named('audit')?.standards ?? []) {
      const due = traceOf('audit')[`due.${key}`];
      const counted = traceOf('audit')[`${direction === 'at least' ? 'met' : 'failed'}.${key}`];
      expect([due && listed(due), due && infantsOf(due), counted && listed(counted)], key).toEqual([
        n,
        infants,
        count,
      ]);
    }
    for (const { key, units } of named('audit-comparison')?.funnels ?? []) {
      for (const { kind, code, count, n } of units) {
        const at = `${key}.${kind} ${code}`;
        const due = traceOf('audit-comparison')[`due.${at}`];
        const counted = traceOf('audit-comparison')[`counted.${at}`];
        expect([due && listed(due), counted && listed(counted)], at).toEqual([n, count]);
      }
    }
    const charts = named('audit-charts')?.quarterCharts ?? [];
    for (const [place, quarter] of (charts[0]?.quarters ?? []).entries()) {
      const ofQuarter = analyseAudit(cohort, plan, quarter);
      for (const { key, points } of charts) {
        const point = points.find(candidate => candidate.place === place);
        if (point === undefined) continue;
        const rate = key === 'skin-rate';
        const trace = traceOf(rate ? 'audit-charts' : 'audit', ofQuarter);
        const events =
          trace[rate ? 'skin-events' : `${key === 'lost-to-follow-up' ? 'failed' : 'met'}.${key}`];
        expect(events && listed(events), `${key}, ${quarter}`).toBe(point.count);
        const due = trace[`due.${key}`];
        if (!rate) expect(due && listed(due), `${key}, ${quarter}`).toBe(point.size);
      }
    }
  });

  it('lists the feet of each alternative of the sensitivity table', () => {
    const keys = Object.keys(traceOf('sensitivity')).filter(key => key.startsWith('feet.'));
    expect(keys).toEqual([
      'feet.scheme-web',
      'feet.bisector-alone',
      'feet.flexibility-alone',
      'feet.confirmed',
      'feet.missing-days',
      'feet.feet',
      'feet.follow-up',
      'feet.main',
    ]);
    const of = (key: string) => traceOf('sensitivity')[key]?.episodes.length;
    // One foot an infant; feet fitted 6 weeks or more before the cut-off.
    expect(of('feet.feet')).toBe(new Set(cohort.feet.map(foot => foot.infant)).size);
    expect(of('feet.follow-up')).toBe(
      cohort.feet.filter(foot => foot.startDate + 42 <= cohort.cutOff).length,
    );
    expect(of('feet.main')).toBe(cohort.feet.length);
  });

  it('names each episode once, in order, and only accepted ones', () => {
    for (const { finding, trace } of analyses) {
      for (const [key, { episodes, rule }] of Object.entries(trace)) {
        const at = `${finding.key}/${key}`;
        expect(rule.length, at).toBeGreaterThan(0);
        expect([...new Set(episodes)].sort(), at).toEqual(episodes);
        expect(
          episodes.filter(episode => !infantOf.has(episode)),
          at,
        ).toEqual([]);
      }
    }
  });

  it('leaves no code of an episode or infant in a finding', () => {
    const text = JSON.stringify(analyses.map(({ finding }) => finding));
    const codes = [...infantOf].flat();
    expect(codes.filter(code => text.includes(`"${code}"`) || text.includes(` ${code}`))).toEqual([]);
  });
});
