import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';

/** What a bundler makes of a few lines that import the package, for a browser. */
export interface Bundle {
  /** Bytes after minifying and gzip. */
  readonly gzipped: number;
  /** Minified bytes of every package in it, ours among them. */
  readonly bytesOf: Readonly<Record<string, number>>;
}

/**
 * Bundles lines of a module as for a browser, where a `node:` module cannot be resolved and fails the bundle.
 *
 * @param folder where the package is installed
 */
export async function bundle(lines: string, folder: string): Promise<Bundle> {
  const { outputFiles, metafile } = await build({
    stdin: { contents: lines, resolveDir: folder },
    bundle: true,
    minify: true,
    format: 'esm',
    platform: 'browser',
    target: 'es2022',
    write: false,
    metafile: true,
    logLevel: 'silent',
  });
  const bytesOf: Record<string, number> = {};
  for (const { inputs } of Object.values(metafile.outputs)) {
    for (const [path, { bytesInOutput }] of Object.entries(inputs)) {
      const owner = /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1];
      if (owner === undefined) continue;
      bytesOf[owner] = (bytesOf[owner] ?? 0) + bytesInOutput;
    }
  }
  const code = outputFiles[0]?.contents ?? new Uint8Array();
  return { gzipped: gzipSync(code, { level: 9 }).length, bytesOf };
}
