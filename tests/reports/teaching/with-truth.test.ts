import { describe, expect, it } from 'vitest';
import type { Finding, Measure } from '../../../src/analyses/finding.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import type { ReportDocument, Section } from '../../../src/reports/index.ts';
import { type KnownTruth, knownTruth, withTruth } from '../../../src/reports/teaching/index.ts';
import { jsonText } from '../../../src/synthetic/json-text.ts';
import { namedScenario, truthOf } from '../../../src/synthetic/index.ts';

const scenario = namedScenario('ordinary-clinic');
const text = jsonText(truthOf({ ...scenario, truth: { ...scenario.truth, infants: 60 } }, 40, 3));
const truth = knownTruth(text);

const section = (key: string): Section => ({ key, title: key, blocks: [], sections: [] });
const document: ReportDocument = Object.freeze({
  language: 'en',
  title: 'A report',
  subtitle: '',
  caution: { title: 'Read this first', items: ['Mind the gap.'] },
  sections: [section('time-to-correction'), section('skin-safety'), section('limits')],
  colophon: '',
});

function finding(key: string, measures: readonly Measure[]): Finding {
  return {
    key,
    version: 1,
    question: '',
    statement: '',
    population: { feet: 0, infants: 0, leftOut: [] },
    measures,
    curves: [],
    tests: [],
    tables: [],
    methods: [],
    cautions: [],
  };
}

const share: Measure = {
  key: 'corrected.week8.severe',
  label: 'Seen corrected by week 8',
  group: 'severe',
  kind: 'proportion',
  unit: 'of 1',
  estimate: 0.25,
  lower: 0.1,
  upper: 0.5,
};
const rate: Measure = {
  key: 'rate.any skin event.all',
  label: 'Any skin event',
  kind: 'rate',
  unit: 'per 100 foot-weeks',
  state: 'no data',
};
const photograph: Measure = {
  key: 'share.baseline-photograph',
  label: 'Photograph',
  kind: 'proportion',
  unit: 'of 1',
  state: 'no data',
};
const findings = [finding('time-to-correction', [share]), finding('skin-safety', [rate])];

const known: KnownTruth = {
  ...truth,
  correction: {
    bands: [
      {
        band: 'severe',
        seenIncidence: Array.from({ length: 9 }, (_, week) => week / 40),
        trueIncidence: Array.from({ length: 9 }, (_, week) => week / 20),
      },
    ],
  },
  skinPer100FootWeeks: [
    {
      prescribedHours: 24,
      footWeeks: 300,
      rates: { 'slight redness': 8, blister: 2, 'brace pulled off': 50 },
    },
    { prescribedHours: 12, footWeeks: 100, rates: { 'slight redness': 2 } },
  ],
};

describe('a report with the truth beside it', () => {
  const taught = withTruth(document, { findings, plan: defaultPlan() }, known);
  const table = (key: string) => {
    const block = taught.sections.find(candidate => candidate.key === key)?.blocks.at(-1);
    if (block?.kind !== 'table') throw new RangeError(`no table in ${key}`);
    return block;
  };

  it('says at the top that the data are invented and the truth known', () => {
    expect(taught.caution.items[0]).toMatch(/^Invented data: truth known/);
    expect(taught.caution.items.slice(1)).toEqual(document.caution.items);
  });

  it('sets what checkups see and what happened beside the estimate', () => {
    expect(table('time-to-correction').caption).toMatch(/Invented data: truth known/);
    expect(table('time-to-correction').rows.map(row => row.map(cell => cell.text))).toEqual([
      ['Seen corrected by week 8, severe (%)', '25 (10 to 50)', '20', '40'],
    ]);
  });

  it('adds the skin events of the phases, weighted by foot-weeks, and names what has no estimate', () => {
    // (10 x 300 + 2 x 100) / 400, the brace pulled off not being a skin event.
    expect(table('skin-safety').rows.map(row => row.map(cell => cell.text))).toEqual([
      ['Any skin event (per 100 foot-weeks)', 'no data', '8.00'],
    ]);
  });

  it('names what was planted for the charts to find, and how sites differ', () => {
    const audit = withTruth(
      { ...document, sections: ['audit', 'audit-charts', 'audit-comparison'].map(section) },
      {
        findings: [
          { ...finding('audit', [photograph]), period: { name: '2023-Q2', firstDay: 0, lastDay: 90 } },
          finding('audit-charts', []),
          finding('audit-comparison', []),
        ],
        plan: defaultPlan(),
      },
      known,
    );
    const texts = (place: number) => {
      const block = audit.sections[place]?.blocks.at(-1);
      return block?.kind === 'table' ? block.rows.map(row => row.map(cell => cell.text)) : [];
    };
    // 93 % taken, 3 % left blank.
    expect(texts(0)).toEqual([['Photograph (%)', 'no data', '90']]);
    expect(texts(1)).toContainEqual([
      'second checkup delay',
      'kestrel-quay',
      '2024-Q2',
      '2025-Q4',
      '+1 days',
      '+13 days',
      'stays so',
    ]);
    expect(texts(2)).toHaveLength(3);
    expect(texts(2)[0]).toEqual(['tarnholm', '85', '93', '90', '0', '0']);
  });

  it('leaves sections without a known truth as they are', () => {
    expect(taught.sections[2]).toBe(document.sections[2]);
  });
});

describe('a truth file', () => {
  it('is read as the generator writes it', () => {
    expect(truth.scenario).toBe('ordinary-clinic');
    expect(truth.correction.bands.map(({ band }) => band)).toEqual(['mild', 'moderate', 'severe']);
  });

  it('is refused where it is none, with the place', () => {
    expect(() => knownTruth('{')).toThrow('it is not JSON');
    expect(() => knownTruth(text.replace('"version": 1', '"version": 2'))).toThrow(/^version: /);
  });
});
