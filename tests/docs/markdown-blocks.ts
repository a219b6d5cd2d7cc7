import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** A fenced block of a page: its language, the word after it, and its text. */
export interface Block {
  readonly page: string;
  readonly line: number;
  readonly language: string;
  readonly mark: string;
  readonly text: string;
}

/** The pages that a reader follows, by their path in the repository. */
export const PAGES: readonly string[] = [
  'README.md',
  'DEVELOPERS.md',
  'CHANGELOG.md',
  ...readdirSync(`${root}docs`)
    .filter(name => name.endsWith('.md'))
    .sort()
    .map(name => `docs/${name}`),
];

export function pageText(page: string): string {
  return readFileSync(`${root}${page}`, 'utf8');
}

export function blocksOf(page: string): Block[] {
  const text = pageText(page);
  return Array.from(text.matchAll(/^```([a-z]*) ?([^\n]*)\n([\s\S]*?)^```$/gm), match => ({
    page,
    line: text.slice(0, match.index).split('\n').length,
    language: match[1] ?? '',
    mark: match[2] ?? '',
    text: match[3] ?? '',
  }));
}
