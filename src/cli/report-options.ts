import type { Command } from 'commander';
import type { PublishingOptions } from './publish-outcomes.ts';
import { type ReadingOptions, withReadingOptions } from './reading-options.ts';

/** What every kind of report can be asked for. */
export interface ReportOptions extends ReadingOptions, PublishingOptions {
  /** The truth of a simulated export. */
  readonly truth?: string;
}

/** Adds the export, and the options that every kind of report has. */
export function withReportOptions(command: Command): Command {
  command
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'folder of reports, made if it is not there');
  return withReadingOptions(command)
    .option('--pdf', 'publish the report as a tagged PDF too')
    .option('--replace', 'publish a new version where the report differs from the one that stands there')
    .option('--quiet', 'say nothing but the line that tells where the report is')
    .option('--truth <file>', 'truth.json of a simulated export: print the truth beside the estimates');
}
