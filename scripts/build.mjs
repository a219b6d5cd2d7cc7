// Compiles src/ into dist/ with the TypeScript compiler alone: one module in, one module out. Does nothing where dist/
// stands and was made from the very same sources, so that a check of everything compiles once.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const command = `${root}dist/cli/main.js`;
const stamp = `${root}node_modules/.cache/forefoot-build`;

/** A hash of all that the result depends on, and of what stands in dist/. */
function stateNow() {
  const hash = createHash('sha256');
  for (const file of ['package-lock.json', 'tsconfig.json', 'tsconfig.build.json', 'scripts/build.mjs'])
    hash.update(readFileSync(`${root}${file}`));
  for (const folder of ['src', 'dist']) {
    for (const path of readdirSync(`${root}${folder}`, { recursive: true, encoding: 'utf8' }).sort()) {
      hash.update(`\n${folder}/${path}\n`);
      if (/\.[a-z]+$/.test(path)) hash.update(readFileSync(`${root}${folder}/${path}`));
    }
  }
  return hash.digest('hex');
}

if (existsSync(command) && existsSync(stamp) && readFileSync(stamp, 'utf8') === stateNow()) process.exit(0);

rmSync(`${root}dist`, { recursive: true, force: true });
const compiled = spawnSync('npx', ['--no-install', 'tsc', '-p', 'tsconfig.build.json'], {
  cwd: root,
  stdio: 'inherit',
});
if (compiled.status !== 0) process.exit(compiled.status ?? 1);
if (existsSync(command)) chmodSync(command, 0o755);
mkdirSync(`${root}node_modules/.cache`, { recursive: true });
writeFileSync(stamp, stateNow());
