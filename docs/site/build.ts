// Builds the documentation to out/docs: the pages of docs/, and the reference, plan, dictionary and frames from their sources.
import { existsSync, readFileSync } from 'node:fs';
import { copyFile, mkdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { dictionaryText } from '../../src/records/dictionary/dictionary-text.ts';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { frameDictionaryText } from '../../src/reports/frames/frames-readme.ts';
import { type SitePage, siteFiles } from './page.ts';
import { planPage } from './plan-page.ts';
import { referencePage } from './reference-page.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const { values } = parseArgs({ options: { out: { type: 'string' } } });
const out = resolve(values.out ?? join(root, 'out/docs'));
const dist = join(root, 'dist');
if (!existsSync(join(dist, 'index.d.ts')))
  throw new Error('the reference is made from dist: run npm run build first');

const written = (name: string): string => readFileSync(join(root, 'docs', `${name}.md`), 'utf8');
const page = (group: string, name: string, markdown: string, title?: string): SitePage => ({
  name,
  group,
  title: title ?? /^# (.*)$/m.exec(markdown)?.[1] ?? name,
  markdown,
});

const statistics = await functionsOf('statistics/index.js');
for (const name of await functionsOf('statistics/further.js')) statistics.add(name);
const everything = await functionsOf('index.js');
for (const name of statistics) everything.delete(name);

const pages: readonly SitePage[] = [
  page('Start', 'index', readFileSync(join(root, 'README.md'), 'utf8'), 'Overview'),
  ...['tutorial', 'newcomer', 'how-to'].map(name => page('Start', name, written(name))),
  page('Data', 'dictionary', dictionaryText(DICTIONARY)),
  ...['checks', 'mapping', 'synthetic-data'].map(name => page('Data', name, written(name))),
  page('Data', 'frames', frameDictionaryText()),
  page('Definitions', 'definitions', written('definitions')),
  page('Definitions', 'plan', planPage(written('definitions'))),
  page('Definitions', 'glossary', written('glossary')),
  ...['methods', 'validation', 'validity', 'recovery', 'benchmarks'].map(name =>
    page('Methods', name, written(name)),
  ),
  page(
    'Reference',
    'statistics',
    referencePage(
      'The statistics',
      '`forefoot-outcomes/statistics`: numbers in, plain objects out. Agreement, descriptive summaries, distributions, missing data and splines come with `forefoot-outcomes` and `forefoot-outcomes/browser` instead, so that this entry stays small.',
      join(dist, 'statistics'),
      statistics,
      true,
    ),
  ),
  page(
    'Reference',
    'functions',
    referencePage(
      'Everything else',
      '`forefoot-outcomes`: records, cohort, analyses, figures and reports.',
      dist,
      everything,
      false,
    ),
  ),
  ...['command-line', 'publishing'].map(name => page('Reference', name, written(name))),
  page('Project', 'developers', readFileSync(join(root, 'DEVELOPERS.md'), 'utf8')),
  page('Project', 'changelog', readFileSync(join(root, 'CHANGELOG.md'), 'utf8')),
];

await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
for (const { path, text } of siteFiles(pages)) await writeFile(join(out, path), text);
for (const name of ['findings.schema.json', 'validity.json'])
  await copyFile(join(root, 'docs', name), join(out, name));
console.log(`Documentation: ${join(out, 'index.html')}`);

async function functionsOf(entry: string): Promise<Set<string>> {
  const exported = (await import(pathToFileURL(join(dist, entry)).href)) as Readonly<Record<string, unknown>>;
  return new Set(Object.keys(exported).filter(name => typeof exported[name] === 'function'));
}
