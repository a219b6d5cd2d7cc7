// Builds the notebooks to static pages; installs what they need, apart from the package, the first time.
// usage: node scripts/notebooks.mjs [EXPORT] [--out FOLDER] [--only NAME]
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const home = fileURLToPath(new URL('../notebooks/', import.meta.url));

function run(command, args, cwd) {
  const { status } = spawnSync(command, args, { cwd, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}

if (!existsSync(`${home}node_modules/.package-lock.json`)) run('npm', ['ci'], home);
run(`${home}node_modules/.bin/tsx`, [`${home}build.ts`, ...process.argv.slice(2)]);
