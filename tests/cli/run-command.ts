import { run } from '../../src/cli/run.ts';

/** What a command line printed, and its exit code. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly log: string;
}

/** Runs a command line as if nobody sat at a terminal. */
export async function runCommand(...words: readonly string[]): Promise<Ran> {
  let out = '';
  let log = '';
  const code = await run(words, {
    out: text => void (out += text),
    log: text => void (log += text),
    terminal: false,
  });
  return { code, out, log };
}
