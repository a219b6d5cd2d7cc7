// Coverage of intervals and size of tests over many simulated cohorts of feet in infants. Writes docs/validity.md and
// docs/validity.json, the same bytes at every run.
import { writeFileSync } from 'node:fs';
import { randomStream } from '../../src/statistics/index.ts';
import { competingStudies } from './competing-studies.ts';
import { countStudies } from './count-studies.ts';
import { intervalStudies } from './interval-studies.ts';
import { report, type StudyResult } from './report.ts';
import type { Study } from './study.ts';
import { survivalStudies } from './survival-studies.ts';

const usualDataSets = 2000;
const sizes = [40, 300];
const studies: readonly Study[] = [
  ...survivalStudies,
  ...competingStudies,
  ...intervalStudies,
  ...countStudies,
];

const results: StudyResult[] = [];
for (const [number, study] of studies.entries()) {
  for (const feet of sizes) {
    const start = performance.now();
    results.push(...resultOf(study, feet, number));
    console.log(
      `${study.estimator}, ${feet} feet: ${((performance.now() - start) / 1000).toFixed(1)} s\n${results
        .slice(-3)
        .map(r => `    ${r.method}: ${r.share.toFixed(3)}`)
        .join('\n')}`,
    );
  }
}
writeFileSync('docs/validity.json', `${JSON.stringify(results, undefined, 2)}\n`);
writeFileSync('docs/validity.md', report(results, usualDataSets));

function resultOf(study: Study, feet: number, number: number): StudyResult[] {
  const random = randomStream(1_000_003 * (number + 1) + feet);
  const dataSets = study.dataSets ?? usualDataSets;
  const counts = new Map<string, { yes: number; answered: number }>();
  for (let i = 0; i < dataSets; i++) {
    for (const [method, verdict] of Object.entries(study.judge(random, feet))) {
      const count = counts.get(method) ?? { yes: 0, answered: 0 };
      counts.set(method, count);
      if (verdict === undefined) continue;
      count.answered++;
      if (verdict) count.yes++;
    }
  }
  return [...counts].map(([method, { yes, answered }]) => {
    const share = yes / answered;
    return {
      estimator: study.estimator,
      setting: study.setting,
      measure: study.measure,
      method,
      feet,
      dataSets,
      withoutAnswer: dataSets - answered,
      share,
      monteCarloError: Math.sqrt((share * (1 - share)) / answered),
      advice: study.advice,
    };
  });
}
