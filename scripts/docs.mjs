// Builds the documentation to static pages; installs what only this needs the first time.
// usage: node scripts/docs.mjs [--out FOLDER]
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const site = `${root}docs/site`;

function run(command, args, cwd) {
  const { status } = spawnSync(command, args, { cwd, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}

if (!existsSync(`${site}/node_modules/.package-lock.json`)) run('npm', ['ci'], site);
run('npm', ['run', '--silent', 'build'], root);
run(`${root}node_modules/.bin/tsx`, [`${site}/build.ts`, ...process.argv.slice(2)]);
