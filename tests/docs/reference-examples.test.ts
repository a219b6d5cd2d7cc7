import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { type Described, docstringsOf } from '../../docs/site/docstrings.ts';
import * as statistics from '../../src/statistics/index.ts';
import { EXAMPLE_DATA } from '../../docs/site/example-data.ts';
import { shownValue } from './shown-value.ts';

const folder = fileURLToPath(new URL('../../src/statistics/', import.meta.url));
const offered = Object.entries(statistics)
  .filter(([, value]) => typeof value === 'function' && !(value.prototype instanceof Error))
  .map(([name]) => name);
const described = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter(path => path.endsWith('.ts'))
  .flatMap(path => docstringsOf(readFileSync(`${folder}${path}`, 'utf8')))
  .filter(({ name, text, examples }) => offered.includes(name) && (text !== '' || examples.length > 0));

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
