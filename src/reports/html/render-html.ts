import { sha256 } from '../../plan/sha256.ts';
import { citedWork } from '../citations.ts';
import { blocksOf, citedKeys, figuresOf, type ReportDocument } from '../document.ts';
import type { DrawnFigures } from '../drawn-figures.ts';
import { type BlockContext, sectionHtml } from './block.ts';
import { escapeHtml, htmlId } from './escape.ts';
import { inlineHtml } from './inline.ts';
import { PAGE_SCRIPT } from './page-script.ts';
import { STYLE_SHEET } from './style-sheet.ts';

/**
 * A report as one HTML file that asks for nothing: its style stands in it, its figures are inline SVG, and its
 * content security policy forbids whatever it does not hold. Its one script adds readings to the figures; without it
 * the page is whole.
 *
 * @throws RangeError for a citation that is not listed, a table key used twice, or a figure that was not drawn
 */
export function renderHtml(document: ReportDocument, drawn: DrawnFigures): string {
  const cited = citedKeys(document);
  const context: BlockContext = {
    drawn,
    numbers: new Map(cited.map((key, i) => [key, i + 1])),
    tables: numbered(
      blocksOf(document).flatMap(block => (block.kind === 'table' ? [block.key] : [])),
      'tables',
    ),
    figures: numbered(
      figuresOf(document).map(figure => figure.key),
      'figures',
    ),
  };
  const policy = [
    "default-src 'none'",
    `style-src 'sha256-${sha256Base64(STYLE_SHEET)}'`,
    `script-src 'sha256-${sha256Base64(PAGE_SCRIPT)}'`,
    'img-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const body = [
    '<a class="skip" href="#main">Skip to the report</a>',
    '<header>',
    `<h1>${escapeHtml(document.title)}</h1>`,
    `<p class="subtitle">${escapeHtml(document.subtitle)}</p>`,
    '</header>',
    '<main id="main">',
    cautionHtml(document, context),
    contentsHtml(document, cited.length > 0),
    ...document.sections.map(section => sectionHtml(section, 2, context)),
    ...(cited.length > 0 ? [referencesHtml(cited)] : []),
    '</main>',
    `<footer><p>${inlineHtml(document.colophon, context)}</p></footer>`,
    `<script>${PAGE_SCRIPT}</script>`,
  ];
  return [
    '<!DOCTYPE html>',
    `<html lang="${document.language}">`,
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    `<title>${escapeHtml(document.title)}</title>`,
    '<link rel="icon" href="data:,">',
    `<style>${STYLE_SHEET}</style>`,
    '</head>',
    '<body>',
    ...body,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function cautionHtml(document: ReportDocument, context: BlockContext): string {
  const items = document.caution.items.map(item => `<li>${inlineHtml(item, context)}</li>`);
  return [
    '<section class="caution" aria-labelledby="caution-title">',
    `<h2 id="caution-title">${escapeHtml(document.caution.title)}</h2>`,
    `<ul>\n${items.join('\n')}\n</ul>`,
    '</section>',
  ].join('\n');
}

function contentsHtml(document: ReportDocument, hasReferences: boolean): string {
  const entries = document.sections.map(
    section => `<li><a href="#${htmlId('section', section.key)}">${escapeHtml(section.title)}</a></li>`,
  );
  if (hasReferences) entries.push('<li><a href="#references">References</a></li>');
  return [
    '<nav class="contents" aria-labelledby="contents-title">',
    '<h2 id="contents-title">Contents</h2>',
    `<ul>\n${entries.join('\n')}\n</ul>`,
    '</nav>',
  ].join('\n');
}

function referencesHtml(cited: readonly string[]): string {
  const items = cited.map(key => `<li id="${htmlId('reference', key)}">${escapeHtml(citedWork(key))}</li>`);
  return [
    '<section id="references" class="references" aria-labelledby="references-title">',
    '<h2 id="references-title">References</h2>',
    `<ol>\n${items.join('\n')}\n</ol>`,
    '</section>',
  ].join('\n');
}

function numbered(keys: readonly string[], what: string): ReadonlyMap<string, number> {
  const numbers = new Map<string, number>();
  for (const [i, key] of keys.entries()) {
    if (numbers.has(key)) throw new RangeError(`the report has two ${what} with the key ${key}`);
    numbers.set(key, i + 1);
  }
  return numbers;
}

/** SHA-256 in base 64, as a content security policy asks. */
function sha256Base64(text: string): string {
  const bytes = (sha256(text).match(/../g) ?? []).map(pair => Number.parseInt(pair, 16));
  return btoa(String.fromCharCode(...bytes));
}
