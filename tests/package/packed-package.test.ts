import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Packed {
  readonly filename: string;
  readonly files: readonly { readonly path: string }[];
}

describe('the packed package, installed in an empty folder', () => {
  let folder = '';
  let packed: Packed = { filename: '', files: [] };

  const run = (command: string, args: readonly string[]): string =>
    execFileSync(command, args, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'forefoot-packed-'));
    const output = execFileSync('npm', ['pack', '--json', '--pack-destination', folder], {
      cwd: root,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const list = JSON.parse(output) as readonly Packed[];
    packed = list[0] ?? packed;
    writeFileSync(join(folder, 'package.json'), '{"name": "empty", "private": true, "type": "module"}\n');
    run('npm', ['install', '--no-audit', '--no-fund', '--omit=optional', join(folder, packed.filename)]);
  });

  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('carries the built code with types and maps, and neither tests nor sources outside dist', () => {
    const paths = packed.files.map(file => file.path);
    expect(paths).toContain('dist/index.js');
    expect(paths).toContain('dist/index.d.ts');
    expect(paths).toContain('dist/statistics/index.js.map');
    expect(
      paths.filter(path => /^(src|tests|notebooks|synthetic-data|reports|scripts)\//.test(path)),
    ).toEqual([]);
  });

  it('gives the statistics entry', () => {
    const script =
      "import { kaplanMeier } from 'forefoot-outcomes/statistics'; console.log(JSON.stringify(Array.from(kaplanMeier({ time: [1, 2], event: [1, 1] }).survival)));";
    expect(run(process.execPath, ['--input-type=module', '-e', script]).trim()).toBe('[0.5,0]');
  });

  it('gives the main entry', () => {
    const script =
      "import { defaultPlan } from 'forefoot-outcomes'; console.log(defaultPlan().severity.scheme);";
    expect(run(process.execPath, ['--input-type=module', '-e', script]).trim()).toBe('toe');
  });

  it('installs the command', () => {
    const help = run('npx', ['--no-install', 'forefoot', '--help']);
    for (const command of ['check', 'report', 'analyse', 'simulate', 'dictionary'])
      expect(help).toContain(command);
  });
});
