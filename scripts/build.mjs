// Compiles src/ into dist/ with the TypeScript compiler alone: one module in, one module out.
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
rmSync(`${root}dist`, { recursive: true, force: true });
const compiled = spawnSync('npx', ['--no-install', 'tsc', '-p', 'tsconfig.build.json'], {
  cwd: root,
  stdio: 'inherit',
});
if (compiled.status !== 0) process.exit(compiled.status ?? 1);
const command = `${root}dist/cli/main.js`;
if (existsSync(command)) chmodSync(command, 0o755);
