// The recovery study: many seeded exports of each scenario, by the path of a clinic, held against what is true of them.
// The same seed and number of exports write the same bytes, whatever the number of workers.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Estimand } from './estimands.ts';
import type { ExportAnswers } from './estimates.ts';
import { doJobs, type Job, type Message } from './jobs.ts';
import { keptIn } from './kept.ts';
import { publishStudy } from './publish.ts';
import { type Studied, STUDIED } from './scenarios.ts';
import { scenarioRecovery, type StudyResult, wantedNames } from './study.ts';

const { values } = parseArgs({
  options: {
    exports: { type: 'string', default: '500' },
    infants: { type: 'string', default: '80000' },
    seed: { type: 'string', default: '20260101' },
    workers: { type: 'string', default: '2' },
    out: { type: 'string', default: 'reports/recovery' },
    /** File of answers: a stopped run goes on from it, and a finished one is published from it again. */
    keep: { type: 'string' },
    /** Writes the pages of the published study anew from its numbers; nothing is run. */
    again: { type: 'boolean', default: false },
  },
});
if (values.again) {
  const numbers = readFileSync(join(values.out, 'findings.json'), 'utf8');
  console.log(`published in ${await publishStudy(values.out, JSON.parse(numbers) as StudyResult)}`);
} else {
  await runStudy();
}

async function runStudy(): Promise<void> {
  const [exports, infants, seed, workers] = [values.exports, values.infants, values.seed, values.workers].map(
    text => {
      const number = Number(text);
      if (!Number.isInteger(number) || number < 1) throw new RangeError(`${text} is no whole number from 1`);
      return number;
    },
  ) as [number, number, number, number];

  const estimands = new Map<Studied, readonly Estimand[]>();
  const found = new Map<Studied, ExportAnswers[]>(STUDIED.map(scenario => [scenario, []]));
  const { done, keep } = keptIn(values.keep, seed, infants);
  const started = performance.now();
  let answered = 0;
  const told = (what: string): void =>
    console.log(`${((performance.now() - started) / 1000).toFixed(0)} s: ${what}`);

  function take(message: Message): void {
    if (message.kind === 'truth') {
      estimands.set(message.scenario, message.estimands);
      return;
    }
    const exportsOf = found.get(message.scenario);
    if (exportsOf === undefined || message.place >= exports || exportsOf[message.place] !== undefined) return;
    exportsOf[message.place] = message.answers;
    answered += 1;
  }

  for (const message of done) take(message);
  await doJobs(
    STUDIED.filter(scenario => !estimands.has(scenario)).map(
      (scenario): Job => ({ kind: 'truth', scenario, seed, infants }),
    ),
    workers,
    message => {
      take(message);
      keep(message);
      told(`truth of ${message.scenario}`);
    },
  );
  // Place by place, so that a run stopped early has as many exports of one scenario as of another.
  const jobs = Array.from({ length: exports }, (_, place) =>
    STUDIED.filter(scenario => found.get(scenario)?.[place] === undefined).map((scenario): Job => {
      const names = [...wantedNames(estimands.get(scenario) ?? [])];
      return { kind: 'export', scenario, seed, place, names };
    }),
  ).flat();
  await doJobs(jobs, workers, message => {
    take(message);
    keep(message);
    if (answered % 200 === 0) told(`${answered} of ${exports * STUDIED.length} exports`);
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
}
