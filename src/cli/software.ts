import { readFileSync } from 'node:fs';

/** Name and version of this package, as its package.json gives them. */
export function software(): { readonly name: string; readonly version: string } {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  const { name, version } = JSON.parse(text) as { readonly name: string; readonly version: string };
  return { name, version };
}
