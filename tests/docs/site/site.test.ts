import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import * as statistics from '../../statistics/all.ts';

const site = fileURLToPath(new URL('../../../out/docs', import.meta.url));
const pages = readdirSync(site).filter(name => name.endsWith('.html'));
const textOf = (page: string): string => readFileSync(join(site, page), 'utf8');

describe('the documentation as built', () => {
  it('has every kind of page', () => {
    for (const name of [
      'index',
      'tutorial',
      'how-to',
      'statistics',
      'functions',
      'dictionary',
      'plan',
      'methods',
      'validation',
      'glossary',
    ]) {
      expect(pages).toContain(`${name}.html`);
    }
  });

  it('tells of every field of the plan where it is defined', () => {
    const rows = Array.from(
      textOf('plan.html').matchAll(/<tr>\s*<td><code>[\s\S]*?<\/tr>/g),
      match => match[0],
    );
    expect(rows.length).toBeGreaterThan(80);
    expect(rows.filter(row => !row.includes('href="definitions.html#'))).toEqual([]);
  });

  it('has every function of the statistics in the reference', () => {
    const text = textOf('statistics.html');
    const missing = Object.entries(statistics)
      .filter(([name, value]) => typeof value === 'function' && name !== 'StatisticsError')
      .filter(([name]) => !text.includes(`<h3 id="${name.toLowerCase()}">`));
    expect(missing.map(([name]) => name)).toEqual([]);
  });

  it.each(pages)('%s leads nowhere that is not there, and asks for nothing', page => {
    const text = textOf(page);
    const ids = (file: string): Set<string> =>
      new Set(Array.from(readFileSync(file, 'utf8').matchAll(/ id="([^"]+)"/g), match => match[1] ?? ''));
    const gone = Array.from(text.matchAll(/<a href="([^"]+)"/g), match => match[1] ?? '').filter(href => {
      if (/^[a-z]+:/.test(href)) return false;
      const [path = '', anchor] = href.split('#');
      const file = path === '' ? join(site, page) : join(dirname(join(site, page)), path);
      return !existsSync(file) || (anchor !== undefined && !ids(file).has(anchor));
    });
    expect(gone).toEqual([]);
    expect(text).not.toMatch(/<(?:script|img|link)[^>]+(?:src|href)="(?!data:)/);
  });
});
