import type { Command } from 'commander';

/** What a command needs of the world around it, so that it can be run in a test. */
export interface CommandContext {
  /** Results. */
  readonly out: (text: string) => void;
  /** Everything else. */
  readonly log: (text: string) => void;
  /** The log is a terminal that somebody looks at. */
  readonly terminal: boolean;
  /** The command ended as it should, with something to tell: 0 if this is not called. */
  readonly setExitCode: (code: number) => void;
}

/** Adds one command to the program; every file in commands/ exports one. */
export type AddCommand = (program: Command, context: CommandContext) => void;

/** Exit codes of all commands. */
export const EXIT = {
  /** Done, nothing to complain of. */
  clean: 0,
  /** Done, but some of the data were refused. */
  refused: 1,
  /** Not done: the input or the command line cannot be used. */
  unusable: 2,
  /** Not done: a fault of this program. */
  fault: 3,
} as const;

/** An error that the user can mend; its message is printed as it is. */
export class UserError extends Error {
  override readonly name = 'UserError';
}
