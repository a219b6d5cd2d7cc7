// The recovery study: many seeded exports of each scenario, by the path of a clinic, held against what is true of them.
// The same seed and number of exports write the same bytes, whatever the number of workers.
import { parseArgs } from 'node:util';
import type { Estimand } from './estimands.ts';
import type { ExportAnswers } from './estimates.ts';
import { doJobs, type Job } from './jobs.ts';
import { publishStudy } from './publish.ts';
import { type Studied, STUDIED } from './scenarios.ts';
import { scenarioRecovery, wantedNames } from './study.ts';

const { values } = parseArgs({
  options: {
    exports: { type: 'string', default: '500' },
    infants: { type: 'string', default: '80000' },
    seed: { type: 'string', default: '20260101' },
    workers: { type: 'string', default: '2' },
    out: { type: 'string', default: 'reports/recovery' },
  },
});
const [exports, infants, seed, workers] = [values.exports, values.infants, values.seed, values.workers].map(
  text => {
    const number = Number(text);
    if (!Number.isInteger(number) || number < 1) throw new RangeError(`${text} is no whole number from 1`);
    return number;
  },
) as [number, number, number, number];

const estimands = new Map<Studied, readonly Estimand[]>();
const found = new Map<Studied, ExportAnswers[]>(STUDIED.map(scenario => [scenario, []]));
const started = performance.now();
let done = 0;
const told = (what: string): void =>
  console.log(`${((performance.now() - started) / 1000).toFixed(0)} s: ${what}`);

await doJobs(
  STUDIED.map((scenario): Job => ({ kind: 'truth', scenario, seed, infants })),
  workers,
  message => {
    if (message.kind === 'truth') estimands.set(message.scenario, message.estimands);
    told(`truth of ${message.scenario}`);
  },
);
const jobs = STUDIED.flatMap(scenario => {
  const names = [...wantedNames(estimands.get(scenario) ?? [])];
  return Array.from(
    { length: exports },
    (_, place): Job => ({ kind: 'export', scenario, seed, place, names }),
  );
});
await doJobs(jobs, workers, message => {
  if (message.kind !== 'export') return;
  const exportsOf = found.get(message.scenario);
  if (exportsOf) exportsOf[message.place] = message.answers;
  done += 1;
  if (done % 200 === 0) told(`${done} of ${jobs.length} exports`);
});

const scenarios = STUDIED.map(scenario =>
  scenarioRecovery(scenario, estimands.get(scenario) ?? [], found.get(scenario) ?? []),
);
const folder = await publishStudy(values.out, {
  version: 1,
  seed,
  exports,
  infantsOfTruth: infants,
  scenarios,
});
told(`published in ${folder}`);
