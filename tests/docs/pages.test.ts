import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readPlan } from '../../src/plan/read-plan.ts';
import { readMapping } from '../../src/records/mapping/read-mapping.ts';
import { frameDictionaryText } from '../../src/reports/index.ts';
import { blocksOf, PAGES, pageText } from './markdown-blocks.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const blocks = PAGES.flatMap(blocksOf);

describe('the pages', () => {
  it('have no block that is neither run nor read', () => {
    const kinds = new Set(['ts ', 'sh run', 'sh ', 'yaml plan', 'yaml mapping', 'text ']);
    const others = blocks.filter(({ language, mark }) => !kinds.has(`${language} ${mark}`));
    expect(others.map(({ page, line, language, mark }) => `${page}:${line} ${language} ${mark}`)).toEqual([]);
    // What is not run only installs or builds the project itself.
    const idle = blocks
      .filter(({ language, mark }) => language === 'sh' && mark === '')
      .flatMap(({ text }) => text.trim().split('\n'));
    expect(idle.filter(line => !/^(npm|cd|git) /.test(line))).toEqual([]);
    expect(blocks.filter(({ mark }) => mark === 'run').length).toBeGreaterThan(8);
  });

  it.each(blocks.filter(({ language }) => language === 'yaml'))(
    '$page:$line can be read as a $mark',
    ({ text, mark }) => {
      const read = mark === 'plan' ? readPlan(text) : readMapping(text);
      expect(read).toBeDefined();
    },
  );

  it.each(PAGES)('%s leads nowhere that is not there', page => {
    const folder = page.includes('/') ? `${root}docs/` : root;
    const links = Array.from(
      pageText(page).matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g),
      match => match[1] ?? '',
    );
    const gone = links.filter(link => !/^[a-z]+:/.test(link) && !existsSync(`${folder}${link}`));
    expect(gone).toEqual([]);
  });

  it('describe the frames as the program does', () => {
    expect(pageText('docs/frames.md')).toBe(frameDictionaryText());
  });
});
