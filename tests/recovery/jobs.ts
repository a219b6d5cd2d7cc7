import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Estimand } from './estimands.ts';
import type { ExportAnswers } from './estimates.ts';
import type { Studied } from './scenarios.ts';

interface TruthJob {
  readonly kind: 'truth';
  readonly scenario: Studied;
  readonly seed: number;
  readonly infants: number;
}

interface ExportJob {
  readonly kind: 'export';
  readonly scenario: Studied;
  readonly seed: number;
  /** Which of the exports of the scenario, from 0. */
  readonly place: number;
  /** The measures to keep. */
  readonly names: readonly string[];
}

export type Job = TruthJob | ExportJob;
export type Message =
  | (TruthJob & { readonly estimands: readonly Estimand[] })
  | (ExportJob & { readonly answers: ExportAnswers });

/** Has every job done by worker processes, in any order; whoever takes the answers puts them in theirs. */
export async function doJobs(
  jobs: readonly Job[],
  workers: number,
  take: (message: Message) => void,
): Promise<void> {
  let next = 0;
  const one = (): Promise<void> =>
    new Promise((resolve, reject) => {
      // An export leaves much behind at once; with more room for it a tenth of the time is saved.
      const execArgv = [...process.execArgv, '--max-semi-space-size=32'];
      const worker = fork(fileURLToPath(new URL('./worker.ts', import.meta.url)), { execArgv });
      let open = 0;
      const give = (): void => {
        const job = jobs[next];
        next += 1;
        if (job === undefined) {
          if (open === 0) worker.disconnect();
          return;
        }
        open += 1;
        worker.send(job);
      };
      worker.on('message', message => {
        open -= 1;
        take(message as Message);
        give();
      });
      worker.on('error', reject);
      worker.on('exit', code => {
        if (code === 0) resolve();
        else reject(new Error(`a worker of the study ended with code ${String(code)}`));
      });
      give();
    });
  await Promise.all(Array.from({ length: workers }, one));
}
