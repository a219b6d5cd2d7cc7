import ora from 'ora';
import type { CommandContext } from './command.ts';

/** Tells somebody at a terminal what is going on; elsewhere it says nothing. */
export interface Progress {
  say(text: string): void;
  stop(): void;
}

export function progress({ terminal }: CommandContext): Progress {
  if (!terminal) return { say: () => {}, stop: () => {} };
  const spinner = ora({ stream: process.stderr, discardStdin: false });
  return {
    say(text) {
      if (spinner.isSpinning) spinner.text = text;
      else spinner.start(text);
    },
    stop() {
      spinner.stop();
    },
  };
}
