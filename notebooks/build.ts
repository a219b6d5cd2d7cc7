// Builds every notebook to one HTML file that opens from the disk and asks for nothing.
// usage: tsx build.ts [EXPORT] [--out FOLDER] [--only NAME]
import { readdir, rm, writeFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { observable } from '@observablehq/notebook-kit/vite';
import { build, type InlineConfig } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';
import {
  buildCohort,
  cohortFrames,
  defaultPlan,
  provenanceOf,
  publishFrames,
  readExport,
} from '../src/index.ts';
import { indexPage } from './index-page.ts';
import { offlineModules } from './offline-modules.ts';

const home = fileURLToPath(new URL('.', import.meta.url));
const pages = join(home, 'pages');

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { out: { type: 'string' }, only: { type: 'string' } },
});
const [folder = join(home, '../synthetic-data')] = positionals;
const out = resolve(values.out ?? join(home, '../out/notebooks'));

await writeFrames(folder);
const names = (await readdir(pages)).filter(name => name.endsWith('.html')).sort();
const wanted = names.filter(name => values.only === undefined || basename(name, '.html') === values.only);
if (wanted.length === 0)
  throw new Error(`there is no notebook ${values.only}; there are ${names.join(', ')}`);
if (values.only === undefined) await rm(out, { recursive: true, force: true });
for (const name of wanted) await build(settingsFor(name));
await writeFile(join(out, 'index.html'), await indexPage(names.map(name => join(pages, name))));
console.log(`Notebooks: ${join(out, 'index.html')}`);

/** The analysis frames of the export, which the notebooks open as files. */
async function writeFrames(exportFolder: string): Promise<void> {
  const plan = defaultPlan();
  const records = await readExport(exportFolder, { plan });
  const software = { name: 'forefoot-outcomes', version: 'notebooks' };
  const provenance = provenanceOf(records, plan, software);
  await publishFrames(join(home, 'data'), cohortFrames(buildCohort(records, plan)), provenance, {
    replace: true,
  });
}

function settingsFor(name: string): InlineConfig {
  // The kit names its style sheets and its runtime so; its own way with packages is to leave them to the network.
  const kit = fileURLToPath(import.meta.resolve('@observablehq/notebook-kit/vite'));
  return {
    base: './',
    resolve: { alias: [{ find: /^observable:(.*)$/, replacement: join(kit, '../../$1') }] },
    root: pages,
    configFile: false,
    logLevel: 'error',
    plugins: [offlineModules(), observable(), viteSingleFile({ removeViteModuleLoader: true })],
    build: {
      outDir: out,
      emptyOutDir: false,
      target: 'es2022',
      chunkSizeWarningLimit: 20_000,
      rollupOptions: { input: join(pages, name), shimMissingExports: true },
    },
  };
}
