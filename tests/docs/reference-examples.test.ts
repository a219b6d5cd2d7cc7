import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { type Described, docstringsOf } from '../../docs/site/docstrings.ts';
import * as statistics from '../statistics/all.ts';
import { EXAMPLE_DATA } from '../../docs/site/example-data.ts';
import { PART_LEADS } from '../../docs/site/part-leads.ts';
import { shownValue } from './shown-value.ts';

const folder = fileURLToPath(new URL('../../src/statistics/', import.meta.url));
const offered = Object.entries(statistics)
  .filter(([, value]) => typeof value === 'function' && !(value.prototype instanceof Error))
  .map(([name]) => name);
const described = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter(path => path.endsWith('.ts'))
  .flatMap(path => docstringsOf(readFileSync(`${folder}${path}`, 'utf8')))
  .filter(({ name, text, examples }) => offered.includes(name) && (text !== '' || examples.length > 0));

const SOURCE = /\b(?:18|19|20)\d\d\b|Source|Abramowitz/;
const textOf = (name: string): string =>
  described
    .filter(entry => entry.name === name)
    .map(({ text }) => text)
    .join('\n');

/** By its own words, or those of a function that it names. */
function hasSource(name: string, asked: readonly string[] = []): boolean {
  if (SOURCE.test(textOf(name))) return true;
  const named = Array.from(textOf(name).matchAll(/`(\w+)`/g), match => match[1] ?? '');
  return named.some(
    other =>
      other !== name &&
      offered.includes(other) &&
      !asked.includes(other) &&
      hasSource(other, [...asked, name]),
  );
}

describe('the descriptions of the statistics', () => {
  it('name a source, or the function whose source holds; the distributions have theirs in common', () => {
    const distributions = new Set(
      readdirSync(`${folder}distributions`).flatMap(path =>
        docstringsOf(readFileSync(`${folder}distributions/${path}`, 'utf8')).map(({ name }) => name),
      ),
    );
    expect(PART_LEADS['distributions']).toMatch(SOURCE);
    expect(offered.filter(name => !distributions.has(name) && !hasSource(name))).toEqual([]);
  });
});

describe('the examples of the statistics', () => {
  it('stand at every function that is offered', () => {
    const shown = new Set(described.filter(({ examples }) => examples.length > 0).map(({ name }) => name));
    expect(offered.length).toBeGreaterThan(140);
    expect(offered.filter(name => !shown.has(name))).toEqual([]);
  });

  it.each(
    described.flatMap((entry: Described) => entry.examples.map(example => [entry.name, example] as const)),
  )('%s gives what its example says', (name, { program, value }) => {
    expect(program).toContain(name);
    const given: unknown = runInNewContext(`${EXAMPLE_DATA}\n(${program})`, { ...statistics });
    expect(shownValue(given)).toBe(value);
  });
});
