import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';

export interface OpenedPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the console said as a warning or an error, and what the page threw. */
  readonly complaints: readonly string[];
  /** Every address asked for but that of the page itself. */
  readonly requests: readonly string[];
}

export interface OpenOptions {
  readonly width: number;
  readonly script?: boolean;
  readonly calm?: boolean;
}

/** Opens a file as a reader does, and writes down what it complains of and what it asks for. */
export async function openPage(
  browser: Browser,
  file: string,
  { width, script = true, calm = false }: OpenOptions,
): Promise<OpenedPage> {
  const context = await browser.newContext({
    viewport: { width, height: 900 },
    javaScriptEnabled: script,
    reducedMotion: calm ? 'reduce' : 'no-preference',
  });
  const page = await context.newPage();
  const address = pathToFileURL(file).href;
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('console', message => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', error => complaints.push(String(error)));
  page.on('request', request => {
    if (request.url() !== address && !request.url().startsWith('data:')) requests.push(request.url());
  });
  await page.goto(address);
  return { page, context, complaints, requests };
}

/** Rule and place of everything that axe-core objects to, by WCAG 2.2 A and AA and its own good practice. */
export async function violations({ page }: OpenedPage): Promise<readonly string[]> {
  const source = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  // A debugger's expression, so that the policy of the page is left as it stands.
  await page.evaluate(`${source}; undefined`);
  const results: AxeResults = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(options: object): Promise<AxeResults> } }).axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    }),
  );
  return results.violations.flatMap(({ id, nodes }) =>
    nodes.map(node => `${id}: ${node.target.join(' ')}: ${node.failureSummary ?? ''}`),
  );
}
