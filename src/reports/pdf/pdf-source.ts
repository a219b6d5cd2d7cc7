import { citedWork } from '../citations.ts';
import {
  type Block,
  blocksOf,
  citedKeys,
  type DocumentTable,
  figuresOf,
  type ReportDocument,
  type Section,
  type Text,
} from '../document.ts';
import type { DrawnFigures } from '../drawn-figures.ts';
import { htmlId } from '../html/escape.ts';
import { isoDate } from '../../wording/format.ts';
import { type TableTexts, tableWidths } from './table-widths.ts';
import { COLUMN_GAP, PAGE, TEMPLATE } from './template.ts';

/** What the typesetter needs to make a PDF: the fixed template, the words of the report as data, and its drawings. */
export interface PdfSource {
  readonly template: string;
  /** The words of the report, ready for JSON. */
  readonly report: object;
  /** SVG texts by file name. */
  readonly drawings: ReadonlyMap<string, string>;
  /** Days since 1970-01-01 (UTC), written down as the time of making. */
  readonly made: number;
}

/** A table of at most so many rows is not split between pages. */
const ROWS_KEPT_WHOLE = 16;

interface Numbers {
  readonly works: ReadonlyMap<string, number>;
  readonly tables: ReadonlyMap<string, number>;
  readonly figures: ReadonlyMap<string, number>;
  readonly drawn: DrawnFigures;
}

/**
 * A report as the source of a PDF. No text of the report stands in the template, so none can be taken for markup.
 *
 * @param made days since 1970-01-01: the data cut-off, so that the same report has the same bytes
 * @throws RangeError for a figure that was not drawn
 */
export function pdfSource(document: ReportDocument, drawn: DrawnFigures, made: number): PdfSource {
  const works = citedKeys(document);
  const numbers: Numbers = {
    drawn,
    works: new Map(works.map((key, i) => [key, i + 1])),
    tables: new Map(
      blocksOf(document)
        .flatMap(block => (block.kind === 'table' ? [block.key] : []))
        .map((key, i) => [key, i + 1]),
    ),
    figures: new Map(figuresOf(document).map((figure, i) => [figure.key, i + 1])),
  };
  const [year, month, day] = isoDate(made).split('-').map(Number);
  const report = {
    language: document.language,
    title: document.title,
    subtitle: document.subtitle,
    footer: [document.title, document.subtitle].filter(part => part !== '').join('. '),
    made: { year, month, day },
    gap: COLUMN_GAP,
    words: { references: 'References' },
    caution: {
      title: document.caution.title,
      items: document.caution.items.map(item => inline(item, numbers)),
    },
    sections: document.sections.map(section => sectionData(section, numbers)),
    works: works.map(key => ({ text: citedWork(key), target: htmlId('reference', key) })),
    colophon: inline(document.colophon, numbers),
  };
  return {
    template: TEMPLATE,
    report,
    drawings: new Map(figuresOf(document).map(({ key }) => [drawingName(key), drawingOf(key, drawn)])),
    made,
  };
}

function sectionData(section: Section, numbers: Numbers): object {
  return {
    title: section.title,
    target: htmlId('section', section.key),
    blocks: section.blocks.map(block => blockData(block, numbers)),
    sections: section.sections.map(part => sectionData(part, numbers)),
  };
}

function blockData(block: Block, numbers: Numbers): object {
  switch (block.kind) {
    case 'paragraph':
    case 'statement':
    case 'note':
      return { kind: block.kind, text: inline(block.text, numbers) };
    case 'list':
      return {
        kind: 'list',
        ordered: block.ordered,
        items: block.items.map(item => inline(item, numbers)),
      };
    case 'definitions':
      return {
        kind: 'definitions',
        items: block.items.map(({ term, description }) => ({
          term,
          description: inline(description, numbers),
        })),
      };
    case 'table':
      return tableData(block, numbers);
    default: {
      const { key, title, description } = block.figure;
      const svg = drawingOf(key, numbers.drawn);
      return {
        kind: 'figure',
        target: htmlId('figure', key),
        path: drawingName(key),
        first: key === firstKey(numbers),
        ratio: drawingRatio(svg),
        width: Math.min(PAGE.textWidth, PAGE.figureHeight * drawingRatio(svg)),
        alternative: description === '' ? title : description,
        caption: numbered('Figure', numbers.figures.get(key), block.caption, numbers),
      };
    }
  }
}

function tableData(table: DocumentTable, numbers: Numbers): object {
  const texts: TableTexts = {
    columns: table.columns,
    rows: table.rows.map(row =>
      row.map(cell => ({
        text: plain(cell.text),
        code:
          typeof cell.text !== 'string' &&
          cell.text.some(part => typeof part !== 'string' && part.kind === 'code'),
        depth: cell.depth ?? 0,
      })),
    ),
  };
  return {
    kind: 'table',
    target: htmlId('table', table.key),
    caption: numbered('Table', numbers.tables.get(table.key), table.caption, numbers),
    columns: table.columns,
    rows: table.rows.map(row =>
      row.map(cell => ({ parts: inline(cell.text, numbers), depth: cell.depth ?? 0 })),
    ),
    notes: table.notes.map(note => inline(note, numbers)),
    kept: table.rows.length <= ROWS_KEPT_WHOLE,
    ...tableWidths(texts),
  };
}

function numbered(what: string, number: number | undefined, text: Text, numbers: Numbers): readonly object[] {
  return [
    { kind: 'strong', text: `${what} ${number ?? ''}.` },
    { kind: 'text', text: ' ' },
    ...inline(text, numbers),
  ];
}

function inline(text: Text, numbers: Numbers): readonly object[] {
  const parts = typeof text === 'string' ? [text] : text;
  return parts.flatMap((part): readonly object[] => {
    if (typeof part === 'string') return [{ kind: 'text', text: part }];
    if (part.kind === 'reference') {
      return [{ kind: 'reference', text: part.text, target: htmlId(part.target.kind, part.target.key) }];
    }
    if (part.kind !== 'citation') return [part];
    if (part.keys.length === 0) return [];
    const works = part.keys.map(key => ({
      target: htmlId('reference', key),
      number: numbers.works.get(key),
    }));
    return [{ kind: 'citation', works }];
  });
}

function plain(text: Text): string {
  if (typeof text === 'string') return text;
  return text
    .map(part =>
      typeof part === 'string' ? part : 'text' in part ? part.text : part.keys.map(() => '0').join(', '),
    )
    .join('');
}

function drawingOf(key: string, drawn: DrawnFigures): string {
  const svg = drawn.get(key)?.page;
  if (svg === undefined) throw new RangeError(`figure ${key} has not been drawn`);
  return svg;
}

function drawingName(key: string): string {
  return `${htmlId('drawing', key)}.svg`;
}

function firstKey({ figures }: Numbers): string | undefined {
  return [...figures.keys()][0];
}

/** Width over height. */
function drawingRatio(svg: string): number {
  const [, width, height] = /^<svg [^>]*?width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  const ratio = Number(width) / Number(height);
  return Number.isFinite(ratio) ? ratio : 1;
}
