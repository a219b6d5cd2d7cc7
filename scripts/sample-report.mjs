// Publishes the cohort report of the committed sample export, says where it is, and sums it up in ten lines.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const published = spawnSync(
  process.execPath,
  [
    `${root}dist/cli/main.js`,
    'report',
    'cohort',
    `${root}synthetic-data`,
    '--out',
    `${root}out/sample-report`,
    '--replace',
  ],
  { stdio: 'inherit' },
);
process.exit(published.status ?? 1);
