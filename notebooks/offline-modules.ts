import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';

const home = fileURLToPath(new URL('.', import.meta.url));
const OURS = /^forefoot-outcomes(?:\/(statistics|figures|browser))?$/;
/** A package by `npm:` or by its address at a content network, and the path within it. */
const ELSEWHERE =
  /^(?:npm:|https:\/\/[^/]+\/npm\/)((?:@[^/@]+\/)?[^/@]+)(?:@[^/]+)?((?:\/[\w.-]+)*?)(?:\/\+esm)?$/;
const ABSENT = '\0absent:';

/**
 * Keeps pages on this machine: modules that the notebook runtime would fetch from the network are taken from
 * node_modules, or fail when used if they are not installed; our own package is taken from its sources.
 */
export function offlineModules(): Plugin {
  return {
    name: 'offline-modules',
    enforce: 'pre',
    async resolveId(source) {
      const ours = OURS.exec(source);
      if (ours !== null) return fileURLToPath(new URL(`../src/${entryOf(ours[1])}`, import.meta.url));
      const elsewhere = ELSEWHERE.exec(source);
      if (elsewhere === null) return null;
      const name = `${elsewhere[1] ?? ''}${elsewhere[2] ?? ''}`;
      return (await this.resolve(name, `${home}build.ts`, { skipSelf: true })) ?? `${ABSENT}${name}`;
    },
    load(id) {
      if (!id.startsWith(ABSENT)) return null;
      const message = JSON.stringify(`${id.slice(ABSENT.length)} is not installed beside the notebooks`);
      return `throw new Error(${message});\nexport default undefined;`;
    },
    async transform(code, id) {
      if (!id.includes('/notebook-kit/')) return null;
      // A style sheet and pictures that the runtime names by address.
      if (id.endsWith('inputs.css'))
        return readFile(`${home}node_modules/@observablehq/inputs/dist/index.css`, 'utf8');
      const here = code.replaceAll(/(link\.href|imagePath) = "https:[^"]*"/g, '$1 = "data:,"');
      return here === code ? null : { code: here, map: null };
    },
  };
}

function entryOf(name: string | undefined): string {
  return name === undefined || name === 'browser' ? 'browser.ts' : `${name}/index.ts`;
}
