import type { AddCommand } from '../command.ts';
import { addAuditReport } from './report-audit.ts';
import { addCohortReport } from './report-cohort.ts';
import { addDurationReport } from './report-duration.ts';

const KINDS = `
Exit code: 0 published, or the same report stands there; 2 nothing published; 3 a fault of this program.

Examples:
  What became of the feet:
    $ forefoot report cohort clinic-export --out reports
  Whether severity goes with the duration of therapy:
    $ forefoot report duration clinic-export --out reports
  How the last full quarter was against the standards:
    $ forefoot report audit clinic-export --out reports
`;

export const addReport: AddCommand = (program, context) => {
  const report = program
    .command('report')
    .summary('publish a report as a folder')
    .description('Publishes one report from an export.')
    .addHelpText('after', KINDS);
  addAuditReport(report, context);
  addDurationReport(report, context);
  addCohortReport(report, context);
};
