import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { run } from '../../src/cli/run.ts';

const SAMPLE = fileURLToPath(new URL('../../synthetic-data', import.meta.url));

/** Publishes reports of the sample into one folder; gives the page of each, and that of the list of them. */
export async function publishedReports(
  folder: string,
  kinds: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const pages = new Map([['list', join(folder, 'index.html')]]);
  for (const kind of kinds) {
    let said = '';
    let log = '';
    const code = await run(['report', kind, SAMPLE, '--out', folder], {
      out: text => void (said += text),
      log: text => void (log += text),
      terminal: false,
    });
    const page = /^.*?: (.*index\.html) \(version 1\)$/m.exec(said)?.[1];
    if (code !== 0 || page === undefined)
      throw new Error(`the ${kind} report was not published: ${said}${log}`);
    pages.set(kind, page);
  }
  return pages;
}
