import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Analysis,
  analyseAudit,
  analyseCohort,
  analyseDuration,
  analyseExport,
} from '../../src/analyses/index.ts';
import { buildCohort, type Cohort } from '../../src/cohort/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import {
  canonicalJson,
  findingsJson,
  findingsSchema,
  flowLines,
  protectFindings,
  provenanceOf,
} from '../../src/reports/index.ts';
import { sampleCohort } from '../analyses/sample.ts';

const plan = defaultPlan();
const openPlan = { ...plan, disclosure: { ...plan.disclosure, suppressBelow: 0 } };
const validate = new Ajv2020({ allErrors: true }).compile(findingsSchema());
const records = recordsFromRows({ episodes: [], cutOff: 20_500 });

function faultsOf(cohort: Cohort, answers: readonly Analysis[]): unknown {
  const found = {
    findings: answers.map(({ finding }) => finding),
    flow: flowLines(cohort.flow),
    provenance: provenanceOf(records, plan, { name: 'forefoot-outcomes', version: '0' }),
    plan,
  };
  // As published: with small counts hidden, and under a plan that publishes them.
  return [found, { ...found, plan: openPlan }].flatMap(input => {
    validate(JSON.parse(findingsJson(protectFindings(input))));
    return (
      validate.errors?.map(({ instancePath, message, params }) => ({ instancePath, message, params })) ?? []
    );
  });
}

describe('the schema of findings.json', () => {
  let sample: Cohort;

  beforeAll(async () => {
    sample = await sampleCohort(plan);
  });

  it('is the one that is published', () => {
    const published = readFileSync(new URL('../../docs/findings.schema.json', import.meta.url), 'utf8');
    expect(published).toBe(canonicalJson(findingsSchema()));
  });

  it.each([
    ['cohort report', (cohort: Cohort) => analyseCohort(cohort, plan)],
    ['report on duration', (cohort: Cohort) => analyseDuration(cohort, plan)],
    ['audit', (cohort: Cohort) => analyseAudit(cohort, plan, '2026-Q1')],
  ])('holds for the findings of the %s, as published, of the sample and of no feet at all', (_, analyse) => {
    const answers = analyse(sample);
    expect(answers.length).toBeGreaterThan(3);
    expect(faultsOf(sample, answers)).toEqual([]);
    const none = buildCohort(records, plan);
    expect(faultsOf(none, analyse(none))).toEqual([]);
  });

  it('holds for the comparison of definitions', () => {
    const none = buildCohort(records, plan);
    const answers = analyseExport(records, plan, none);
    expect(answers.at(-1)?.finding.key).toBe('sensitivity');
    expect(faultsOf(none, answers)).toEqual([]);
  });

  it('refuses a field it does not know, and a number given as text', () => {
    const [answer] = analyseCohort(buildCohort(records, plan), plan);
    if (answer === undefined) throw new Error('there is no answer');
    const faulty = { ...answer.finding, codes: ['a'], population: { feet: '0', infants: 0, leftOut: [] } };
    const document = JSON.parse(
      canonicalJson({
        version: 1,
        provenance: provenanceOf(records, plan, { name: 'forefoot-outcomes', version: '0' }),
        plan,
        flow: [],
        findings: [faulty],
      }),
    ) as unknown;
    expect(validate(document)).toBe(false);
    expect(validate.errors?.map(({ instancePath, keyword }) => `${instancePath} ${keyword}`)).toEqual([
      '/findings/0 additionalProperties',
      '/findings/0/population/feet type',
      '/findings/0/population/feet const',
      '/findings/0/population/feet pattern',
      '/findings/0/population/feet anyOf',
    ]);
  });
});
