import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { exportHashes } from './export-hashes.ts';

const beside = (name: string) => fileURLToPath(new URL(name, import.meta.url));

describe('the same seed', () => {
  it('gives the committed bytes in every scenario, on this engine as on those they were made with', () => {
    // Made with Node 20.19, and found the same with 22.23 and 24.21 (docs/synthetic-data.md).
    const committed: unknown = JSON.parse(readFileSync(beside('export-hashes.json'), 'utf8'));
    expect(exportHashes()).toEqual(committed);
  }, 30_000);
});

describe('the generator', () => {
  it('uses no function whose last digit an engine may choose', () => {
    // Left are whole-number and exactly rounded ones; dates and locales would be others to differ.
    const allowed = new Set(['floor', 'ceil', 'min', 'max', 'abs', 'imul', 'sqrt']);
    const folder = beside('../../src/synthetic');
    const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter(name => name.endsWith('.ts'))
      .map(name => ({ name, text: withoutComments(readFileSync(join(folder, name), 'utf8')) }));
    expect(sources.length).toBeGreaterThan(40);
    const used = sources.flatMap(({ text }) =>
      [...text.matchAll(/Math\.(\w+)/g)].map(([, name = '']) => name),
    );
    expect(used).toContain('sqrt');
    expect(used.filter(name => !allowed.has(name))).toEqual([]);
    const engineDependent =
      /\*\*|Intl\.|toLocale|localeCompare|new Date|Date\.now|toPrecision|toFixed|performance\./;
    expect(sources.filter(({ text }) => engineDependent.test(text)).map(({ name }) => name)).toEqual([]);
  });
});

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
}
