// Publishes the cohort report of the committed sample export, says where it is, and sums it up in ten lines.
import { spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const reports = `${root}out/sample-reports`;
// Made anew each time: earlier samples are of no interest to anybody.
rmSync(reports, { recursive: true, force: true });
const published = spawnSync(
  process.execPath,
  [`${root}dist/cli/main.js`, 'report', 'cohort', `${root}synthetic-data`, '--out', reports],
  // The summary is part of what the sample is to show.
  { stdio: ['inherit', 'inherit', 1] },
);
process.exit(published.status ?? 1);
