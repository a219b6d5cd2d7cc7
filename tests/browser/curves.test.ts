import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startChromium } from './chromium.ts';
import { type OpenedPage, type OpenOptions, openPage } from './opened-page.ts';
import { publishedReports } from './published-reports.ts';

interface Placed {
  getBoundingClientRect(): { readonly left: number; readonly right: number };
}

const WIDTHS = [1280, 768, 400];

let room = '';
let pages: ReadonlyMap<string, string> = new Map();
let browser: Browser | undefined;

beforeAll(async () => {
  browser = await startChromium();
  room = await mkdtemp(join(tmpdir(), 'forefoot-browser-'));
  pages = await publishedReports(room, ['cohort']);
});

afterAll(async () => {
  await browser?.close();
  await rm(room, { recursive: true, force: true });
});

async function withPage(
  options: OpenOptions,
  check: (opened: OpenedPage, page: Page) => Promise<void>,
): Promise<void> {
  if (browser === undefined) throw new Error('Chromium has not been started');
  const opened = await openPage(browser, pages.get('cohort') ?? '', options);
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

describe.each(WIDTHS)('the curves of the cohort report at %i pixels', width => {
  it('stands the columns of the table under the axis below their ticks', async () => {
    await withPage({ width }, async (_, page) => {
      const columns = await page
        .locator('figure svg:visible')
        .first()
        .evaluate(svg => {
          const centre = (element: Placed): number => {
            const box = element.getBoundingClientRect();
            return (box.left + box.right) / 2;
          };
          const texts = [...svg.querySelectorAll('text')];
          const title = texts.findIndex(text => (text.textContent ?? '').startsWith('Weeks since'));
          const axisTop = (texts[title]?.getBoundingClientRect().top ?? 0) - 40;
          const ticks = texts
            .slice(0, title)
            .filter(text => text.getBoundingClientRect().top > axisTop)
            .map(centre);
          const row = texts.findIndex(text => text.textContent === 'At risk');
          const counts: number[] = [];
          for (const text of texts.slice(row + 1)) {
            if (!/^(?:[\d\s]+|<\d+|\[c\])$/.test(text.textContent ?? '')) break;
            counts.push(centre(text));
          }
          return { ticks, counts };
        });
      expect(columns.counts.length).toBeGreaterThan(2);
      expect(columns.ticks.length).toBeGreaterThanOrEqual(columns.counts.length);
      for (const [i, place] of columns.counts.entries()) {
        expect(Math.abs(place - (columns.ticks[i] ?? Number.NaN))).toBeLessThan(1);
      }
    });
  });
});

describe('the figures', () => {
  const figure = 'figure[data-domain] >> nth=0';

  it('read their values by the keyboard, as the table behind them has them', async () => {
    await withPage({ width: 1280 }, async (_, page) => {
      const first = page.locator(figure);
      const slider = first.locator('input[type=range]');
      await slider.focus();
      await page.keyboard.press('Home');
      for (let i = 0; i < 5; i++) await page.keyboard.press('ArrowRight');
      const cells = await first.locator('tbody tr').nth(5).locator('th, td').allTextContents();
      const box = first.locator('.reading-box:visible');
      expect(await box.count()).toBe(1);
      const said = (await box.textContent()) ?? '';
      expect(said).toContain(`Weeks since first fitting: ${cells[0] ?? '?'}`);
      for (const value of cells.slice(1)) expect(said).toContain(value);
      expect(await slider.getAttribute('aria-valuetext')).toContain(cells[1] ?? '?');
      await page.keyboard.press('Escape');
      expect(await first.locator('.reading-box:visible').count()).toBe(0);
    });
  });

  it('read the step under the pointer, and nothing outside the plot', async () => {
    await withPage({ width: 1280 }, async (_, page) => {
      const first = page.locator(figure);
      await first.scrollIntoViewIfNeeded();
      const drawn = first.locator('.drawn:visible');
      const frame = await drawn.locator('svg').boundingBox();
      const plot = ((await drawn.getAttribute('data-plot')) ?? '').split(' ').map(Number);
      const domain = ((await first.getAttribute('data-domain')) ?? '').split(' ').map(Number);
      const [left = 0, top = 0, width = 0, height = 0] = plot;
      const [from = 0, to = 0] = domain;
      if (frame === null) throw new Error('the figure is not drawn');
      const scale = frame.width / 680;
      const places = await first
        .locator('tbody tr')
        .evaluateAll(rows => rows.map(row => Number(row.getAttribute('data-at'))));
      // Between a step and the next, where they are furthest apart after week 8.
      const gaps = places.map((place, i) => (place < 8 ? 0 : (places[i + 1] ?? place) - place));
      const last = gaps.indexOf(Math.max(...gaps));
      const week = (places[last] ?? 0) + (gaps[last] ?? 0) / 2;
      const x = frame.x + (left + ((week - from) / (to - from)) * width) * scale;
      await page.mouse.move(x, frame.y + (top + height / 2) * scale);
      const cells = await first.locator('tbody tr').nth(last).locator('th, td').allTextContents();
      const said = (await first.locator('.reading-box:visible').textContent()) ?? '';
      for (const value of cells) expect(said).toContain(value === '\u2013' ? 'not followed' : value);
      await page.mouse.move(x, frame.y + (top + height + 30) * scale);
      expect(await first.locator('.reading-box:visible').count()).toBe(0);
    });
  });

  it('hide a group and show it again, by mouse and by key', async () => {
    await withPage({ width: 1280 }, async (_, page) => {
      const first = page.locator(figure);
      const marks = first.locator('.drawn-page [data-group="1"]');
      const drawn = await marks.count();
      const shown = (): Promise<number> =>
        marks.evaluateAll(all => all.filter(mark => mark.getBoundingClientRect().width > 0).length);
      expect(drawn).toBeGreaterThanOrEqual(4);
      const before = await shown();
      const box = first.getByRole('checkbox', { name: 'Moderate' });
      await box.click();
      expect(await shown()).toBe(0);
      const slider = first.locator('input[type=range]');
      expect(await slider.getAttribute('aria-valuetext')).not.toContain('Moderate');
      await box.focus();
      await page.keyboard.press('Space');
      expect(await shown()).toBe(before);
      expect(await slider.getAttribute('aria-valuetext')).toContain('Moderate');
    });
  });

  it('keep the reading inside the page on a telephone', async () => {
    await withPage({ width: 400 }, async (_, page) => {
      const first = page.locator(figure);
      await first.locator('input[type=range]').focus();
      for (const key of ['Home', 'PageUp', 'PageUp', 'PageUp', 'PageUp', 'PageUp', 'End']) {
        await page.keyboard.press(key);
        const frame = await first.locator('.reading-box:visible').boundingBox();
        expect(frame?.x).toBeGreaterThanOrEqual(0);
        expect((frame?.x ?? 0) + (frame?.width ?? 0)).toBeLessThanOrEqual(400);
        expect(await overflow(page)).toBe(0);
      }
    });
  });

  it('state their finding as the name of the image', async () => {
    await withPage({ width: 1280 }, async (_, page) => {
      const images = page.getByRole('img', { name: /Half of severe feet were corrected by week/ });
      expect(await images.count()).toBe(1);
    });
  });
});
