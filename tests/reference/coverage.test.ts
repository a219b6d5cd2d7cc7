import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { kinds } from '../statistics/random-data/values.ts';

/** Reference values that no test uses, and why. */
const unused: Readonly<Record<string, string>> = {
  brier: 'the Brier score is not among the statistics offered',
  'cox-frailty': 'random-effect Cox models are not offered: dependence of rows goes into clustered errors',
  'survreg-residuals-ovarian':
    'of the residuals of accelerated failure models only Cox and Snell’s are offered',
  'survreg-strata': 'accelerated failure models with a scale for each stratum are not offered',
  't-tests': 'the t test is not offered by itself; the linear model gives it',
};

function textOfTests(folder: URL): string {
  return readdirSync(folder, { withFileTypes: true })
    .map(entry => {
      if (entry.isDirectory()) return textOfTests(new URL(`${entry.name}/`, folder));
      const isTest = entry.name.endsWith('.ts') && entry.name !== 'coverage.test.ts';
      return isTest ? readFileSync(new URL(entry.name, folder), 'utf8') : '';
    })
    .join('\n');
}

describe('reference values', () => {
  const text = textOfTests(new URL('../', import.meta.url));
  const names = readdirSync(new URL('values/', import.meta.url)).map(file => file.replace(/\.json$/, ''));
  const random = new Set<string>(kinds.map(kind => `extra-${kind}`));

  it.each(names)('%s is used by a test or is listed with a reason', name => {
    const used =
      random.has(name) ||
      [`'${name}'`, `"${name}"`, `\`${name}\``, `/${name}.json`].some(t => text.includes(t));
    expect(used).toBe(unused[name] === undefined);
  });

  it('the list names only files that exist', () => {
    expect(Object.keys(unused).filter(name => !names.includes(name))).toEqual([]);
  });
});
