import { Command, CommanderError } from 'commander';
import { PlanError } from '../plan/read-plan.ts';
import { MappingError } from '../records/mapping/read-mapping.ts';
import { FolderError } from '../records/files/quarantine.ts';
import { UnusableExport } from '../records/unusable-export.ts';
import type { CommandContext } from './command.ts';
import { EXIT, UserError } from './command.ts';
import { COMMANDS } from './commands/registry.ts';
import { fileSystemText } from './file-system-text.ts';
import { software } from './software.ts';

const HELP = `
Start here:
  $ forefoot dictionary              which files and columns an export has
  $ forefoot check clinic-export     what is wrong with an export
  $ forefoot report cohort clinic-export --out reports
  $ forefoot help check              a command in full
With files that have a layout of their own:
  $ forefoot map clinic-export --out mapping.yaml

Exit codes: 0 done, nothing to complain of; 1 done, with something to look at; 2 not done: the input or the command line
cannot be used; 3 not done: a fault of this program. The help of a command says what they mean for it.
`;

/** Runs the program with the arguments that follow its name, and gives the exit code. */
export async function run(
  words: readonly string[],
  context: Omit<CommandContext, 'setExitCode'>,
): Promise<number> {
  let code: number = EXIT.clean;
  const program = newProgram({ ...context, setExitCode: given => void (code = given) });
  try {
    await program.parseAsync([...words], { from: 'user' });
    return code;
  } catch (error) {
    // The help and the version end the program as well.
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.clean : EXIT.unusable;
    if (program.opts<{ debug?: boolean }>().debug === true && error instanceof Error) {
      context.log(`${error.stack ?? error.message}\n`);
    } else context.log(errorText(error));
    return isUsers(error) ? EXIT.unusable : EXIT.fault;
  }
}

function newProgram(context: CommandContext): Command {
  const program = new Command('forefoot')
    .description(
      'Outcomes of forefoot brace therapy in infants: from the export of a clinic to checked data and published reports.',
    )
    .version(software().version, '--version', 'print the version')
    .option('--debug', 'print where in the program an error arose')
    .addHelpText('after', HELP)
    .exitOverride()
    .configureOutput({
      writeOut: context.out,
      writeErr: context.log,
      outputError: (text, write) => write(commandLineError(text)),
    });
  for (const add of COMMANDS) add(program, context);
  return program;
}

/** What is wrong with a command line, in one line. */
function commandLineError(text: string): string {
  const words = text
    .trim()
    .replace(/^error: /, '')
    .replace(/\.?\s*\n\s*\(Did you mean (.*)\?\)$/, ' (did you mean $1?)')
    .replace(/\.$/, '');
  return `forefoot: ${words}; --help says what is allowed\n`;
}

function isUsers(error: unknown): boolean {
  const known = [UnusableExport, PlanError, MappingError, UserError, FolderError];
  if (known.some(kind => error instanceof kind)) return true;
  // An error of the file system, such as a folder that may not be written to.
  return error instanceof Error && 'syscall' in error;
}

/** One line for each thing that is wrong. */
function errorText(error: unknown): string {
  const lines =
    error instanceof UnusableExport
      ? error.problems.map(problem => problem.message)
      : (error instanceof Error ? fileSystemText(error) : String(error)).split('\n');
  const ending = isUsers(error) ? '' : 'forefoot: this is a fault of the program; --debug says where\n';
  return `${lines.map(line => `forefoot: ${line}\n`).join('')}${ending}`;
}
