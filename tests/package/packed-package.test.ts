import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundle } from './bundle.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Packed {
  readonly filename: string;
  readonly files: readonly { readonly path: string }[];
}

/** Gzipped bytes of all statistics together. */
const STATISTICS_AT_MOST = 60_000;

/** What a page of outcomes takes: curves, competing ends, models of hazards, intervals, rates, agreement and charts. */
const OF_A_PAGE = [
  'kaplanMeier',
  'kaplanMeierByGroup',
  'logRankTest',
  'pairwiseLogRank',
  'survivalAt',
  'survivalQuantile',
  'cumulativeIncidence',
  'cumulativeIncidenceByGroup',
  'grayTest',
  'incidenceAt',
  'subdistributionHazardModel',
  'coxModel',
  'turnbull',
  'turnbullAt',
  'wilsonInterval',
  'poissonRateInterval',
  'proportionChart',
  'rateChart',
  'funnelLimits',
  'meanCumulativeCount',
];

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
      paths.filter(path => /^(src|tests|notebooks|synthetic-data|reports|scripts|docs)\//.test(path)),
    ).toEqual([]);
    expect(paths.filter(path => /\.test\.|(?<!\.d)\.ts$/.test(path))).toEqual([]);
    const modules = paths.filter(path => path.endsWith('.js'));
    expect(modules.length).toBeGreaterThan(400);
    const missing = modules.flatMap(path =>
      [`${path}.map`, path.replace(/\.js$/, '.d.ts')].filter(part => !paths.includes(part)),
    );
    expect(missing).toEqual([]);
  });

  it('names files that are in it, in every entry', () => {
    const { exports } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
      readonly exports: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
    };
    const named = Object.values(exports).flatMap(entry =>
      typeof entry === 'string' ? [entry] : Object.values(entry),
    );
    const paths = new Set(packed.files.map(file => `./${file.path}`));
    expect(named.filter(path => !paths.has(path))).toEqual([]);
    expect(Object.keys(exports)).toEqual(['.', './statistics', './figures', './browser', './package.json']);
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

  it('gives the entry of figures', () => {
    const script =
      "import { contrastRatio } from 'forefoot-outcomes/figures'; console.log(contrastRatio('#000000', '#ffffff'));";
    expect(run(process.execPath, ['--input-type=module', '-e', script]).trim()).toBe('21');
  });

  it('gives the entry for browsers, and there all that the other entries for browsers give', () => {
    const script = `
      import { DICTIONARY } from 'forefoot-outcomes/browser';
      import * as all from 'forefoot-outcomes';
      import * as browser from 'forefoot-outcomes/browser';
      import * as figures from 'forefoot-outcomes/figures';
      const lacks = (names, entry) => Object.keys(names).filter(name => !(name in entry));
      console.log(JSON.stringify([Object.keys(DICTIONARY), lacks(figures, browser), lacks(browser, all), 'readExport' in browser]));`;
    const [tables, noFigure, notInMain, reads] = JSON.parse(
      run(process.execPath, ['--input-type=module', '-e', script]),
    ) as unknown[];
    expect(tables).toEqual(['episodes', 'assessments', 'phases', 'wear', 'events']);
    expect([noFigure, notInMain, reads]).toEqual([[], [], false]);
  });

  // A bundle for a browser cannot resolve a node: module, so each of these also shows that there is none.
  it('has statistics for a browser, of which a page takes along what it calls', async () => {
    const whole = await bundle("export * from 'forefoot-outcomes/statistics';", folder);
    const curve = await bundle("export { kaplanMeier } from 'forefoot-outcomes/statistics';", folder);
    const page = await bundle(
      `export { ${OF_A_PAGE.join(', ')} } from 'forefoot-outcomes/statistics';`,
      folder,
    );
    expect(whole.gzipped).toBeLessThan(STATISTICS_AT_MOST);
    expect(Object.keys(whole.bytesOf).sort()).toEqual(['forefoot-outcomes', 'pure-rand']);
    expect(curve.gzipped).toBeLessThan(5_200);
    expect(page.gzipped).toBeLessThan(31_000);
    expect(Object.keys(curve.bytesOf).sort()).toEqual(['forefoot-outcomes']);
  });

  it('has figures, and everything but files, for a browser', async () => {
    const figures = await bundle("export * from 'forefoot-outcomes/figures';", folder);
    const browser = await bundle("export * from 'forefoot-outcomes/browser';", folder);
    expect(figures.bytesOf['vega-lite']).toBeGreaterThan(0);
    expect(browser.bytesOf['arquero']).toBeGreaterThan(0);
  });

  it('installs the command', () => {
    const help = run('npx', ['--no-install', 'forefoot', '--help']);
    for (const command of ['check', 'report', 'analyse', 'simulate', 'dictionary'])
      expect(help).toContain(command);
  });
});
