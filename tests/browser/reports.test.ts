import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startChromium } from './chromium.ts';
import { type OpenedPage, type OpenOptions, openPage, violations } from './opened-page.ts';
import { publishedReports } from './published-reports.ts';

const WIDTHS = [1280, 768, 400];

/** Every kind of report. */
const REPORTS = [
  { kind: 'cohort', title: /^Cohort outcomes/ },
  { kind: 'audit', title: /audit/i },
  { kind: 'duration', title: /^Severity and total duration/ },
] as const;

const PAGES = [...REPORTS, { kind: 'list', title: /^Published reports/ }] as const;

const EVERYWHERE = PAGES.flatMap(report => WIDTHS.map(width => ({ ...report, width })));

let room = '';
let pages: ReadonlyMap<string, string> = new Map();
let browser: Browser | undefined;

beforeAll(async () => {
  browser = await startChromium();
  room = await mkdtemp(join(tmpdir(), 'forefoot-browser-'));
  pages = await publishedReports(
    room,
    REPORTS.map(({ kind }) => kind),
  );
});

afterAll(async () => {
  await browser?.close();
  await rm(room, { recursive: true, force: true });
});

async function withPage(
  { kind = 'cohort', ...options }: OpenOptions & { readonly kind?: string },
  check: (opened: OpenedPage, page: Page) => Promise<void>,
): Promise<void> {
  if (browser === undefined) throw new Error('Chromium has not been started');
  const opened = await openPage(browser, pages.get(kind) ?? '', options);
  try {
    await check(opened, opened.page);
  } finally {
    await opened.context.close();
  }
}

/** How far the page can be scrolled sideways. */
function overflow(page: Page): Promise<number> {
  return page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
}

describe.each(EVERYWHERE)('the $kind page at $width pixels', ({ kind, width, title }) => {
  it('opens without a complaint, a request or a sideways scroll', async () => {
    await withPage({ kind, width }, async ({ complaints, requests }, page) => {
      expect(await page.title()).toMatch(title);
      expect(complaints).toEqual([]);
      expect(requests).toEqual([]);
      expect(await overflow(page)).toBe(0);
    });
  });

  it('has nothing that axe-core objects to, with the values behind the figures closed and open', async () => {
    await withPage({ kind, width }, async (opened, page) => {
      expect(await violations(opened)).toEqual([]);
      for (const part of ['details.values summary', 'figure[data-domain] input[type=range]']) {
        if ((await page.locator(part).count()) > 0) await page.locator(part).first().press('Space');
      }
      expect(await violations(opened)).toEqual([]);
      expect(await overflow(page)).toBe(0);
    });
  });

  it('shows each figure in one width alone, every text of it inside', async () => {
    await withPage({ kind, width }, async (_, page) => {
      const drawn = page.locator('figure svg:visible');
      expect(await drawn.count()).toBe(await page.locator('figure').count());
      const outside = await drawn.evaluateAll(svgs =>
        svgs.flatMap(svg => {
          const frame = svg.getBoundingClientRect();
          return [...svg.querySelectorAll('text')]
            .filter(text => {
              const box = text.getBoundingClientRect();
              return box.width > 0 && (box.left < frame.left - 1 || box.right > frame.right + 1);
            })
            .map(text => text.textContent);
        }),
      );
      expect(outside).toEqual([]);
    });
  });
});

describe.each(REPORTS)('the $kind report in print', ({ kind }) => {
  it('has nothing that axe-core objects to, and no control', async () => {
    await withPage({ kind, width: 794 }, async (opened, page) => {
      await page.emulateMedia({ media: 'print' });
      expect(await page.locator('.reading:visible, details.values:visible, .skip:visible').count()).toBe(0);
      expect(await page.locator('figure svg:visible').count()).toBe(await page.locator('figure').count());
      expect(await overflow(page)).toBe(0);
      expect(await violations(opened)).toEqual([]);
      expect(await page.evaluate("matchMedia('print').matches")).toBe(true);
      expect(opened.complaints).toEqual([]);
    });
  });

  it('comes out as pages with the caution first', async () => {
    await withPage({ kind, width: 794 }, async (_, page) => {
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      const top = (selector: string): Promise<number> =>
        page.locator(selector).evaluate(element => element.getBoundingClientRect().top);
      expect(await top('.caution')).toBeLessThan(await top('#section-in-brief'));
    });
  });
});

describe.each(REPORTS)('the $kind report without a script', ({ kind }) => {
  it('everything is there, and the values open', async () => {
    await withPage({ kind, width: 1280, script: false }, async (_, page) => {
      expect(await page.locator('.reading').count()).toBe(0);
      expect(await page.locator('figure svg:visible').count()).toBe(await page.locator('figure').count());
      for (const details of await page.locator('details.values').all()) {
        await details.locator('summary').click();
        expect(await details.locator('table').isVisible()).toBe(true);
      }
      expect(await page.getByRole('heading', { name: 'What was found' }).isVisible()).toBe(true);
    });
  });
});

describe('the page as a whole', () => {
  it('has its landmarks, one first heading, and no level left out', async () => {
    await withPage({ width: 1280 }, async (_, page) => {
      for (const role of ['banner', 'main', 'contentinfo', 'navigation'] as const) {
        expect(await page.getByRole(role).count()).toBe(1);
      }
      const levels = await page
        .locator('h1, h2, h3, h4')
        .evaluateAll(all => all.map(heading => Number(heading.tagName.slice(1))));
      expect(levels.filter(level => level === 1)).toHaveLength(1);
      for (const [i, level] of levels.entries()) {
        expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
      }
    });
  });

  it('skips to the report by the first key, and follows every link inside', async () => {
    await withPage({ width: 1280, calm: true }, async (_, page) => {
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.textContent')).toBe('Skip to the report');
      const lost = await page
        .locator('a[href^="#"]')
        .evaluateAll(links =>
          links
            .filter(
              link => link.ownerDocument.getElementById(link.getAttribute('href')?.slice(1) ?? '') === null,
            )
            .map(link => link.getAttribute('href')),
        );
      expect(lost).toEqual([]);
    });
  });

  it('runs no script that it does not hold', async () => {
    await withPage({ width: 1280 }, async ({ complaints }, page) => {
      await page.evaluate(`
        const script = document.createElement('script');
        script.textContent = 'globalThis.intruder = true';
        document.body.append(script);
        document.body.setAttribute('style', 'color: red');
      `);
      expect(await page.evaluate('globalThis.intruder')).toBeUndefined();
      expect(complaints.length).toBeGreaterThanOrEqual(2);
      for (const complaint of complaints) expect(complaint).toContain('Content Security Policy');
    });
  });
});
