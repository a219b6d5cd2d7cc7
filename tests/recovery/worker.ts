// One worker of the study: takes a job at a time from its parent, and answers each with what it found.
import { exportAnswers, studyPlan } from './estimates.ts';
import { scenarioEstimands } from './study.ts';
import { seedOf, STUDIED, type Studied, studiedScenario } from './scenarios.ts';
import type { Job, Message } from './jobs.ts';

const plan = studyPlan();
const wanted = new Map<Studied, ReadonlySet<string>>();

process.on('message', (job: Job) => {
  void work(job).then(message => process.send?.(message));
});

async function work(job: Job): Promise<Message> {
  const { scenario } = job;
  if (job.kind === 'truth') {
    return { ...job, estimands: scenarioEstimands(scenario, job.infants, job.seed) };
  }
  const names = wanted.get(scenario) ?? new Set(job.names);
  wanted.set(scenario, names);
  const seed = seedOf(job.seed, STUDIED.indexOf(scenario), job.place);
  return { ...job, names: [], answers: await exportAnswers(studiedScenario(scenario), seed, plan, names) };
}
