import type { Curve, Finding, FindingTable, Measure } from '../../../src/analyses/finding.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import type { FindingsInput } from '../../../src/reports/findings-document.ts';
import type { FlowLine } from '../../../src/reports/parts/flow-section.ts';
import { deepFreeze } from '../fixtures/load.ts';

/** A finding with nothing in it but what a test gives. */
export function findingOf(parts: Partial<Finding>): Finding {
  return {
    key: 'question',
    version: 1,
    question: 'What happened?',
    statement: 'Something happened.',
    population: { feet: 300, infants: 200, leftOut: [] },
    measures: [],
    curves: [],
    tests: [],
    tables: [],
    methods: [],
    cautions: [],
    ...parts,
  };
}

export function inputOf(findings: readonly Finding[], flow: readonly FlowLine[] = []): FindingsInput {
  return deepFreeze({
    findings,
    flow,
    provenance: {
      software: 'forefoot-outcomes',
      version: '0.1.0',
      service: 'Harbour and Hill Foot Clinics',
      cutOff: 20634,
      cutOffGiven: true,
      exportedAt: undefined,
      files: [],
      problems: [],
      planSha256: 'ab'.repeat(32),
    },
    plan: defaultPlan(),
  });
}

export function countMeasure(key: string, estimate: number, group: string): Measure {
  return { key: `${key}.${group}`, label: key, group, kind: 'count', unit: 'spells', estimate };
}

/** Rows of counts by group with a column of all. */
export function tableOf(rows: Readonly<Record<string, readonly number[]>>): FindingTable {
  const width = Object.values(rows)[0]?.length ?? 0;
  const columns = ['all', ...Array.from({ length: width }, (_, i) => `g${i}`)];
  return {
    key: 'counts',
    title: 'Counts',
    columns: [
      { key: 'line', label: 'Line', kind: 'text' },
      ...columns.map(key => ({ key, label: key, kind: 'count' }) as const),
    ],
    rows: Object.entries(rows).map(([line, counts]) => ({
      line,
      all: counts.reduce((sum, count) => sum + count, 0),
      ...Object.fromEntries(counts.map((count, i) => [`g${i}`, count])),
    })),
    notes: [],
  };
}

/** A curve without censoring in which so many events happen at each time. */
export function curveOf(events: readonly number[], n: number, ticks: readonly number[]): Curve {
  let left = n;
  const atRisk: number[] = [];
  const estimate: number[] = [];
  for (const here of events) {
    atRisk.push(left);
    left -= here;
    estimate.push(1 - left / n);
  }
  const time = events.map((_, i) => i);
  const before = (tick: number): number => events.reduce((sum, here, i) => sum + (i < tick ? here : 0), 0);
  return {
    key: 'share.all',
    group: 'all',
    measure: 'Feet corrected',
    direction: 'climbs',
    timeUnit: 'weeks',
    time,
    estimate,
    lower: time.map(() => undefined),
    upper: time.map(() => undefined),
    riskTable: {
      time: ticks,
      atRisk: ticks.map(tick => n - before(tick)),
      events: ticks.map(before),
      censored: ticks.map(() => 0),
      competing: ticks.map(() => 0),
    },
    n,
    infants: n,
    steps: { events, atRisk },
  };
}
