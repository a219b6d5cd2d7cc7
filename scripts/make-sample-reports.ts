// Publishes reports/ anew: `npm run make:sample-reports`. Nothing changes unless the sample or what is made of it did.
import { mkdtemp, readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { publishSampleReports } from './sample-reports.ts';

const reports = fileURLToPath(new URL('../reports', import.meta.url));
// Beside its place, so that a run that stops leaves what stood there.
const made = await mkdtemp(`${reports}-`);
try {
  await publishSampleReports(made);
  for (const name of await readdir(reports)) await rm(join(reports, name), { recursive: true });
  for (const name of await readdir(made)) await rename(join(made, name), join(reports, name));
} finally {
  await rm(made, { recursive: true, force: true });
}
console.log(`${reports}: ${(await readdir(reports)).join(', ')}`);
