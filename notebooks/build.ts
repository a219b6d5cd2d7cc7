// Builds every notebook to one HTML file that opens from the disk and asks for nothing.
// usage: tsx build.ts [EXPORT] [--plan FILE] [--mapping FILE] [--with FOLDER] [--out FOLDER] [--only NAME]
import { readdir, rm, writeFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { observable } from '@observablehq/notebook-kit/vite';
import { build, type InlineConfig } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';
import { run } from '../src/cli/run.ts';
import { indexPage, inReadingOrder } from './index-page.ts';
import { offlineModules } from './offline-modules.ts';

const home = fileURLToPath(new URL('.', import.meta.url));
const pages = join(home, 'pages');

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    plan: { type: 'string' },
    mapping: { type: 'string' },
    with: { type: 'string', multiple: true },
    out: { type: 'string' },
    only: { type: 'string' },
  },
});
const [folder = join(home, '../synthetic-data')] = positionals;
const out = resolve(values.out ?? join(home, '../out/notebooks'));

if ((await writeFrames(folder)) !== 0) process.exit(2);
const names = inReadingOrder((await readdir(pages)).filter(name => name.endsWith('.html')));
const wanted = names.filter(name => values.only === undefined || basename(name, '.html') === values.only);
if (wanted.length === 0)
  throw new Error(`there is no notebook ${values.only}; there are ${names.join(', ')}`);
if (values.only === undefined) await rm(out, { recursive: true, force: true });
for (const name of wanted) await build(settingsFor(name));
await writeFile(join(out, 'index.html'), await indexPage(names.map(name => join(pages, name))));
console.log(`Notebooks: ${join(out, 'index.html')}`);

/** The analysis frames of the export, which the notebooks open as files; gives the exit code of `forefoot frames`. */
function writeFrames(exportFolder: string): Promise<number> {
  const reading = [
    ...(values.plan === undefined ? [] : ['--plan', values.plan]),
    ...(values.mapping === undefined ? [] : ['--mapping', values.mapping]),
    ...(values.with ?? []).flatMap(quarantine => ['--with', quarantine]),
  ];
  return run(['frames', exportFolder, ...reading, '--out', join(home, 'data'), '--replace'], {
    out: () => undefined,
    log: text => void process.stderr.write(text),
    terminal: false,
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
