import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startChromium } from '../browser/chromium.ts';
import { type OpenedPage, openPage } from '../browser/opened-page.ts';

const built = fileURLToPath(new URL('../../out/notebooks', import.meta.url));
const pictures = fileURLToPath(new URL('../../out/notebook-pictures', import.meta.url));
const sources = fileURLToPath(new URL('../../notebooks/pages', import.meta.url));
const names = readdirSync(sources).map(name => name.replace(/\.html$/, ''));

let browser: Browser;

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await startChromium();
});

afterAll(async () => {
  await browser.close();
});

/** Opens a notebook and waits until every cell has run. */
async function opened(name: string): Promise<OpenedPage> {
  const notebook = await openPage(browser, join(built, `${name}.html`), { width: 1280 });
  await settled(notebook.page);
  return notebook;
}

const SETTLED = "document.querySelector('.observablehq--running, .observablehq--loading') === null";

async function settled(page: Page): Promise<void> {
  await page.waitForFunction(SETTLED);
  // Cells that follow from others start a moment after them.
  await page.waitForTimeout(500);
  await page.waitForFunction(SETTLED);
}

/** What a reader cannot read in full: heads of columns cut short, and words of a figure that reach out of it. */
const CUT_OFF = `[
  ...[...document.querySelectorAll('main th')].filter(cell => cell.scrollWidth > cell.clientWidth),
  ...[...document.querySelectorAll('main svg text')].filter(text => {
    const words = text.getBoundingClientRect();
    const figure = text.ownerSVGElement.getBoundingClientRect();
    return words.left < figure.left - 1 || words.right > figure.right + 1 ||
      words.top < figure.top - 2 || words.bottom > figure.bottom + 2;
  }),
].map(({ textContent }) => textContent).filter(words => words !== '')`;

describe('the notebooks', () => {
  it('are nine, each with a page and a place in the list', () => {
    expect(names).toHaveLength(9);
    const list = readFileSync(join(built, 'index.html'), 'utf8');
    for (const name of names) expect(list).toContain(`href="${name}.html"`);
    expect(list.indexOf('first-look.html')).toBeLessThan(list.indexOf('time-to-correction.html'));
    expect(list.indexOf('your-own-question.html')).toBeGreaterThan(list.indexOf('published-examples.html'));
    expect(list).not.toMatch(/[`*]/);
  });

  it.each(names)('%s runs from the disk to its end, without a fault and without the network', async name => {
    const { page, context, complaints, requests } = await opened(name);
    const faults = await page.locator('.observablehq--error').allTextContents();
    expect({
      complaints,
      requests: requests.filter(address => !address.startsWith('blob:')),
      faults,
    }).toEqual({
      complaints: [],
      requests: [],
      faults: [],
    });
    expect(await page.locator('main svg[aria-label]').count()).toBeGreaterThan(0);
    expect(await page.locator('main').innerText()).not.toMatch(/\bNaN\b/);
    expect(await page.evaluate(CUT_OFF)).toEqual([]);
    await page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });
    await context.close();
  });

  it('agree with the published examples', async () => {
    const { page, context } = await opened('published-examples');
    expect(await page.locator('#verdict').innerText()).toBe('17 of 17 printed values agree.');
    await context.close();
  });

  it('draw the simulation anew when a slider is moved', async () => {
    const { page, context } = await opened('interval-censoring');
    const figure = page.locator('svg[aria-label^="Share corrected by week"]');
    const before = await figure.innerHTML();
    await page.locator('input[type=number]').nth(1).fill('8');
    await page.locator('input[type=number]').nth(1).press('Enter');
    await settled(page);
    expect(await figure.innerHTML()).not.toBe(before);
    await context.close();
  });
});
