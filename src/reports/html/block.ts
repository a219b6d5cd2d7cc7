import type { Block, DocumentTable, Section, Text } from '../document.ts';
import { escapeHtml, htmlId } from './escape.ts';
import { type FigureContext, figureHtml } from './figure.ts';
import { inlineHtml } from './inline.ts';

export interface BlockContext extends FigureContext {
  /** Numbers of the tables, by key. */
  readonly tables: ReadonlyMap<string, number>;
}

/** A table of at most so many rows is not split between printed pages. */
const ROWS_KEPT_WHOLE = 16;

/** A table of more columns may be wider than the text, where the window has room. */
const COLUMNS_IN_TEXT = 6;

/** Heads of rows with more letters get a column wide enough for some words in a line. */
const LONG_HEAD = 24;

/** A section with its heading, at level 2 for the outermost. */
export function sectionHtml(section: Section, level: number, context: BlockContext): string {
  const id = htmlId('section', section.key);
  const inner = [
    ...section.blocks.map(block => blockHtml(block, context)),
    ...section.sections.map(part => sectionHtml(part, level + 1, context)),
  ];
  return [
    `<section id="${id}" aria-labelledby="${id}-title">`,
    `<h${level} id="${id}-title">${escapeHtml(section.title)}</h${level}>`,
    ...inner,
    '</section>',
  ].join('\n');
}

function blockHtml(block: Block, context: BlockContext): string {
  switch (block.kind) {
    case 'paragraph':
      return `<p>${inlineHtml(block.text, context)}</p>`;
    case 'statement':
      return `<p class="statement">${inlineHtml(block.text, context)}</p>`;
    case 'note':
      return `<p class="note">${inlineHtml(block.text, context)}</p>`;
    case 'list': {
      const tag = block.ordered ? 'ol' : 'ul';
      return `<${tag}>\n${block.items.map(item => `<li>${inlineHtml(item, context)}</li>`).join('\n')}\n</${tag}>`;
    }
    case 'definitions': {
      const items = block.items.map(
        ({ term, description }) =>
          `<dt>${escapeHtml(term)}</dt>\n<dd>${inlineHtml(description, context)}</dd>`,
      );
      return `<dl>\n${items.join('\n')}\n</dl>`;
    }
    case 'table':
      return tableHtml(block, context);
    default:
      return figureHtml(block, context);
  }
}

function tableHtml(table: DocumentTable, context: BlockContext): string {
  const id = htmlId('table', table.key);
  const heads = table.columns.map(column => {
    const unit = column.unit === undefined ? '' : ` <span class="unit">${escapeHtml(column.unit)}</span>`;
    const look = column.align === 'right' ? ' class="number"' : '';
    return `<th scope="col"${look}>${escapeHtml(column.label)}${unit}</th>`;
  });
  const rows = table.rows.map(row => {
    const cells = row.map((cell, i) => {
      const text = inlineHtml(cell.text, context);
      if (i === 0) {
        const depth = Math.min(cell.depth ?? 0, 3);
        return `<th scope="row"${depth > 0 ? ` class="depth-${depth}"` : ''}>${text}</th>`;
      }
      const look = table.columns[i]?.align === 'right' ? 'number' : 'wrap';
      return `<td class="${look}">${text}</td>`;
    });
    return `<tr>${cells.join('')}</tr>`;
  });
  const notes = table.notes.map(note => `<p>${inlineHtml(note, context)}</p>`);
  return [
    `<div class="${tableLook(table)}" id="${id}">`,
    `<div class="table-scroll" role="region" aria-labelledby="${id}-caption" tabindex="0">`,
    '<table>',
    `<caption><span class="caption" id="${id}-caption">Table ${context.tables.get(table.key) ?? ''}. ${inlineHtml(table.caption, context)}</span></caption>`,
    `<thead><tr>${heads.join('')}</tr></thead>`,
    `<tbody>\n${rows.join('\n')}\n</tbody>`,
    '</table>',
    '</div>',
    ...(notes.length > 0 ? [`<div class="table-notes">${notes.join('')}</div>`] : []),
    '</div>',
  ].join('\n');
}

/** Letters of a text, its links and citations left out. */
function lengthOf(text: Text | undefined): number {
  if (text === undefined || typeof text === 'string') return text?.length ?? 0;
  return text.reduce((sum, part) => sum + (typeof part === 'string' ? part.length : 0), 0);
}

function tableLook(table: DocumentTable): string {
  const looks = ['table'];
  if (table.rows.length <= ROWS_KEPT_WHOLE) looks.push('whole');
  if (table.columns.length > COLUMNS_IN_TEXT) looks.push('wide');
  if (table.rows.some(([head]) => lengthOf(head?.text) > LONG_HEAD)) looks.push('long-heads');
  return looks.join(' ');
}
