import { readFile } from 'node:fs/promises';
import { InvalidArgumentError } from 'commander';
import { FolderTaken, type WrittenExport, writeExport } from '../../synthetic/files/write-export.ts';
import type { Scenario } from '../../synthetic/scenario.ts';
import { scenarioFrom, scenarioFromText } from '../../synthetic/scenario-text.ts';
import { SCENARIOS, settingsOf } from '../../synthetic/scenarios/index.ts';
import { alignedColumns, counted, grouped } from '../columns.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { progress } from '../progress.ts';

interface SimulateOptions {
  readonly feet?: number;
  readonly seed: number;
  readonly out?: string;
  readonly scenario?: string;
  readonly replace?: true;
  readonly list?: true;
}

const EXAMPLES = `
Everything is invented. Beside the five tables the folder holds what made them (scenario.yaml) and what is true of
them (truth.json), which no analysis reads.

Exit code: 0 written, 2 not written: the scenario or the folder cannot be used.

Examples:
  An ordinary clinic of 240 feet:
    $ forefoot simulate --feet 240 --seed 7 --out invented-clinic
  Which scenarios there are:
    $ forefoot simulate --list
  Another scenario, with some parameters of your own:
    $ forefoot simulate informative-drop-out --scenario changes.yaml --out invented-clinic
`;

const DEFAULT_SCENARIO = 'ordinary-clinic';

export const addSimulate: AddCommand = (program, context) => {
  program
    .command('simulate')
    .summary('write an invented export whose truth is known')
    .description(
      'Writes an invented export of a clinic network into a folder. The same scenario, number of feet and seed give the same bytes on every machine.',
    )
    .argument('[SCENARIO]', 'name of a scenario', DEFAULT_SCENARIO)
    .option('--feet <number>', 'number of treated feet (default: that of the scenario)', wholeFrom(1))
    .option('--seed <number>', 'seed of the random numbers', wholeFrom(0), 1)
    .option('--out <folder>', 'new or empty folder for the export')
    .option('--scenario <file>', 'YAML with parameters to lay over the scenario')
    .option('--replace', 'replace a folder that is not empty')
    .option('--list', 'list the scenarios')
    .addHelpText('after', EXAMPLES)
    .action((name: string, options: SimulateOptions) => simulate(name, options, context));
};

async function simulate(name: string, options: SimulateOptions, context: CommandContext): Promise<void> {
  if (options.list === true) {
    context.out(`${SCENARIOS.map(s => `${s.name}\n    ${s.description}`).join('\n')}\n`);
    return;
  }
  if (options.out === undefined) throw new UserError('--out is missing; allowed: a new or empty folder');
  const scenario = await chosenScenario(name, options.scenario);
  const feet = options.feet ?? scenario.cohort.feet;
  const shown = progress(context);
  try {
    shown.say(`Simulating ${counted(feet, 'foot', 'feet')}`);
    const replace = options.replace === true;
    const written = writeExport(scenario, options.out, { feet, seed: options.seed, replace });
    shown.stop();
    context.out(summary(scenario, feet, options.seed, written));
  } catch (error) {
    throw error instanceof FolderTaken || error instanceof RangeError ? new UserError(error.message) : error;
  } finally {
    shown.stop();
  }
}

async function chosenScenario(name: string, file: string | undefined): Promise<Scenario> {
  try {
    const settings = settingsOf(name);
    if (file === undefined) return scenarioFrom(settings);
    return scenarioFromText(await readFile(file, 'utf8'), settings);
  } catch (error) {
    throw new UserError(error instanceof Error ? error.message : String(error));
  }
}

function summary(scenario: Scenario, feet: number, seed: number, written: WrittenExport): string {
  const rows = Object.entries(written.rows).map(([table, count]) => [`${table}.csv`, grouped(count)]);
  const about = `Invented export ${written.folder}: scenario ${scenario.name}, seed ${seed}, ${counted(feet, 'foot', 'feet')} of ${counted(written.infants, 'infant')}`;
  const flaws =
    written.planted > 0
      ? `\n${counted(written.planted, 'problem')} planted, listed in planted-problems.csv`
      : '';
  return `${about}\n${alignedColumns([['file', 'rows'], ...rows])}${flaws}\n`;
}

function wholeFrom(least: number): (text: string) => number {
  return text => {
    const value = Number(text);
    if (!/^\d{1,15}$/.test(text) || value < least) {
      throw new InvalidArgumentError(`Allowed: a whole number from ${least}.`);
    }
    return value;
  };
}
