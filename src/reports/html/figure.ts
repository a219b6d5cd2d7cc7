import type { Figure, FigureValues, FigureWidth } from '../../figures/index.ts';
import type { DocumentFigure } from '../document.ts';
import type { DrawnFigures } from '../drawn-figures.ts';
import { escapeHtml, htmlId } from './escape.ts';
import { type InlineContext, inlineHtml } from './inline.ts';

export interface FigureContext extends InlineContext {
  readonly drawn: DrawnFigures;
  /** Numbers of the figures, by key. */
  readonly figures: ReadonlyMap<string, number>;
}

/**
 * A figure in both widths, its caption, and a table of the values behind it that opens without a script. What the
 * script of the page needs to know stands in `data-` attributes.
 */
export function figureHtml(block: DocumentFigure, context: FigureContext): string {
  const { figure } = block;
  const drawn = context.drawn.get(figure.key);
  if (drawn === undefined) throw new RangeError(`figure ${figure.key} has not been drawn`);
  const number = context.figures.get(figure.key) ?? 0;
  return [
    `<figure id="${htmlId('figure', figure.key)}" data-number="${number}"${domainOf(figure.values)}>`,
    `<div class="drawn drawn-page"${plotOf(figure.values, 'page')}>${drawn.page}</div>`,
    `<div class="drawn drawn-narrow"${plotOf(figure.values, 'narrow')}>${drawn.narrow}</div>`,
    `<figcaption><strong>Figure ${number}.</strong> ${inlineHtml(block.caption, context)}</figcaption>`,
    ...(figure.values === undefined ? [] : [valuesHtml(figure, figure.values, number)]),
    '</figure>',
  ].join('\n');
}

function domainOf(values: FigureValues | undefined): string {
  if (values?.axis === undefined) return '';
  return ` data-domain="${values.axis.domain.join(' ')}" data-clear="${values.axis.clear}"`;
}

function plotOf(values: FigureValues | undefined, width: FigureWidth): string {
  if (values?.axis === undefined) return '';
  const { left, top, width: across, height } = values.axis.plot[width];
  return ` data-plot="${[left, top, across, height].join(' ')}"`;
}

function valuesHtml(figure: Figure, values: FigureValues, number: number): string {
  const id = htmlId('values', figure.key);
  const groups = values.columns.flatMap(column => column.group ?? []);
  const heads = values.columns.map(column => {
    const unit = column.unit === undefined ? '' : ` <span class="unit">${escapeHtml(column.unit)}</span>`;
    const group = column.group === undefined ? '' : ` data-group="${groups.indexOf(column.group)}"`;
    return `<th scope="col" class="number"${group}>${escapeHtml(column.label)}${unit}</th>`;
  });
  const rows = values.rows.map(({ at, cells }) => {
    const [head = '', ...others] = cells;
    const place = at === undefined ? '' : ` data-at="${Number(at.toFixed(6))}"`;
    const row = others.map(cell => `<td>${escapeHtml(cell)}</td>`).join('');
    return `<tr${place}><th scope="row">${escapeHtml(head)}</th>${row}</tr>`;
  });
  return [
    '<details class="values">',
    `<summary>Values behind figure ${number}</summary>`,
    `<div class="table-scroll" role="region" aria-labelledby="${id}" tabindex="0">`,
    `<table><caption><span class="caption" id="${id}">Values behind figure ${number}. ${escapeHtml(figure.subtitle)}</span></caption>`,
    `<thead><tr>${heads.join('')}</tr></thead>`,
    `<tbody>${rows.join('\n')}</tbody></table>`,
    '</div>',
    '</details>',
  ].join('\n');
}
