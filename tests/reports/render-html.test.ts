import { createHash } from 'node:crypto';
import { parseHTML } from 'linkedom';
import { beforeAll, describe, expect, it } from 'vitest';
import { cohortReport } from '../../src/reports/cohort/cohort-report.ts';
import { drawFigures } from '../../src/reports/drawn-figures.ts';
import { PAGE_SCRIPT } from '../../src/reports/html/page-script.ts';
import { renderHtml } from '../../src/reports/html/render-html.ts';
import { cohortInput } from './fixtures/cohort-input.ts';
import { fixtureFinding } from './fixtures/load.ts';
import { documentOf } from './hostile-document.ts';

const HOSTILE = `"><script>alert('x')</script><img src=x onerror=alert(1)>&amp;\u0000`;

let html = '';
let page: ReturnType<typeof parseHTML>['document'];

beforeAll(async () => {
  const document = cohortReport(cohortInput());
  html = renderHtml(document, await drawFigures(document));
  page = parseHTML(html).document;
});

describe('hostile text', () => {
  it('stays text wherever it stands', () => {
    const hostile = renderHtml(documentOf(HOSTILE), new Map());
    const parsed = parseHTML(hostile).document;
    expect([...parsed.querySelectorAll('script')].map(script => script.textContent)).toEqual([PAGE_SCRIPT]);
    expect(parsed.querySelectorAll('img')).toHaveLength(0);
    expect(hostile.match(/<script|<img/g)).toEqual(['<script']);
    expect(hostile).not.toContain('\u0000');
    expect(hostile).not.toMatch(/<[^>]* on[a-z]+=/);
    expect(parsed.querySelector('h1')?.textContent).toBe(HOSTILE.replace('\u0000', '\uFFFD'));
    expect(parsed.querySelector('td')?.textContent).toBe(HOSTILE.replace('\u0000', '\uFFFD'));
  });
});

describe('the page asks for nothing', () => {
  it('has a policy that forbids all but its own style and script, by their hashes', () => {
    const policy =
      page.querySelector('meta[http-equiv="Content-Security-Policy"]')?.getAttribute('content') ?? '';
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
    const script = /<script>([\s\S]*?)<\/script>/.exec(html)?.[1] ?? '';
    const hash = (text: string): string => createHash('sha256').update(text).digest('base64');
    expect(policy).toBe(
      `default-src 'none'; style-src 'sha256-${hash(style)}'; script-src 'sha256-${hash(script)}'; img-src data:; base-uri 'none'; form-action 'none'`,
    );
  });

  it('has no script but its own, no style attribute, and no address but its own places', () => {
    expect(page.querySelectorAll('iframe, object, embed, img, script[src]')).toHaveLength(0);
    expect(page.querySelectorAll('script')).toHaveLength(1);
    expect(page.querySelectorAll('[style]')).toHaveLength(0);
    expect(html).not.toMatch(/url\((?!#)|@import/);
    for (const element of page.querySelectorAll('[href], [src]')) {
      expect(element.getAttribute('href')).toMatch(/^(#|data:,$)/);
    }
  });
});

describe('the page can be read by everyone', () => {
  it('has a language, one title, one main part and a way to it', () => {
    expect(page.documentElement.getAttribute('lang')).toBe('en');
    expect(page.querySelectorAll('h1')).toHaveLength(1);
    expect(page.querySelectorAll('main')).toHaveLength(1);
    expect(page.querySelector('a.skip')?.getAttribute('href')).toBe('#main');
  });

  it('skips no level of heading', () => {
    const levels = [...page.querySelectorAll('h1, h2, h3, h4')].map(({ tagName }) =>
      Number(tagName.slice(1)),
    );
    const jumps = levels.slice(1).map((level, i) => level - (levels[i] ?? 0));
    expect(levels[0]).toBe(1);
    expect(Math.max(...jumps)).toBe(1);
  });

  it('has ids that stand once, and links that lead somewhere', () => {
    const ids = [...page.querySelectorAll('[id]')].map(element => element.getAttribute('id'));
    expect(new Set(ids).size).toBe(ids.length);
    for (const link of page.querySelectorAll('a[href^="#"]')) {
      expect(ids).toContain(link.getAttribute('href')?.slice(1));
    }
    for (const element of page.querySelectorAll('[aria-labelledby]')) {
      expect(ids).toContain(element.getAttribute('aria-labelledby'));
    }
  });

  it('gives every table a caption, and every head its scope', () => {
    const tables = [...page.querySelectorAll('table')];
    expect(tables.length).toBeGreaterThan(5);
    for (const table of tables) {
      expect(table.querySelector('caption')?.textContent).toMatch(/^(?:Table|Values behind figure) \d+\. ./);
      expect([...table.querySelectorAll('thead th')].every(th => th.getAttribute('scope') === 'col')).toBe(
        true,
      );
      expect([...table.querySelectorAll('tbody th')].every(th => th.getAttribute('scope') === 'row')).toBe(
        true,
      );
      expect(table.querySelectorAll('tbody tr').length).toBe(table.querySelectorAll('tbody th').length);
    }
  });

  it('gives every drawing a title and a text', () => {
    const drawings = [...page.querySelectorAll('svg')];
    expect(drawings).toHaveLength(8);
    for (const drawing of drawings) {
      expect(drawing.getAttribute('role')).toBe('img');
      expect(drawing.querySelector('title')?.textContent).not.toBe('');
      expect(drawing.querySelector('desc')?.textContent).toContain('at week');
    }
  });

  it('numbers what it cites in the order of reading', () => {
    const numbers = [...page.querySelectorAll('sup a')].map(link => Number(link.textContent));
    const first = [...new Set(numbers)];
    expect(first).toEqual(first.map((_, i) => i + 1));
    expect(page.querySelectorAll('#references li')).toHaveLength(first.length);
  });
});

describe('what the page refuses', () => {
  it('two tables with one key', () => {
    const document = documentOf(HOSTILE);
    const twice = { ...document, sections: [...document.sections, ...document.sections] };
    expect(() => renderHtml(twice, new Map())).toThrow('two tables with the key');
  });

  it('a figure that was not drawn, and a work that is not listed', () => {
    expect(() => renderHtml(cohortReport(cohortInput()), new Map())).toThrow('has not been drawn');
    const finding = fixtureFinding('adherence');
    const methods = [{ text: 'Something.', cites: ['nobody-1900'] }];
    const document = cohortReport({ ...cohortInput(), findings: [{ ...finding, curves: [], methods }] });
    expect(() => renderHtml(document, new Map())).toThrow('nobody-1900');
  });
});
