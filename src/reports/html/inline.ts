import type { Inline, Text } from '../document.ts';
import { escapeHtml, htmlId } from './escape.ts';

/** What running text needs to know of the document it stands in. */
export interface InlineContext {
  /** Numbers of the references, by citation key. */
  readonly numbers: ReadonlyMap<string, number>;
}

export function inlineHtml(text: Text, context: InlineContext): string {
  if (typeof text === 'string') return escapeHtml(text);
  return text.map(part => partHtml(part, context)).join('');
}

function partHtml(part: Inline, context: InlineContext): string {
  if (typeof part === 'string') return escapeHtml(part);
  switch (part.kind) {
    case 'emphasis':
      return `<em>${escapeHtml(part.text)}</em>`;
    case 'strong':
      return `<strong>${escapeHtml(part.text)}</strong>`;
    case 'code':
      return `<code>${escapeHtml(part.text)}</code>`;
    case 'reference':
      return `<a href="#${htmlId(part.target.kind, part.target.key)}">${escapeHtml(part.text)}</a>`;
    default:
      return citationHtml(part.keys, context);
  }
}

function citationHtml(keys: readonly string[], context: InlineContext): string {
  if (keys.length === 0) return '';
  const links = keys.map(key => {
    const number = context.numbers.get(key);
    if (number === undefined) throw new RangeError(`citation ${key} has no number`);
    return `<a href="#${htmlId('reference', key)}" aria-label="Reference ${number}">${number}</a>`;
  });
  return `<sup>${links.join(', ')}</sup>`;
}
