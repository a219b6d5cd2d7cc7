import type { Figure } from '../figures/index.ts';

// One document model for every report and every format: what it says, never how it looks. All text is plain text; a
// renderer escapes it for its format.

/** A stretch of running text. A citation names works by key (see citations.ts); a link points at a section or a figure. */
export type Inline =
  | string
  | { readonly kind: 'emphasis' | 'strong' | 'code'; readonly text: string }
  | { readonly kind: 'citation'; readonly keys: readonly string[] }
  | { readonly kind: 'reference'; readonly target: ReferenceTarget; readonly text: string };

/** A place in the document, by kind and key. */
export interface ReferenceTarget {
  readonly kind: 'section' | 'figure' | 'table';
  readonly key: string;
}

export type Text = string | readonly Inline[];

/** A cell already in words; raw values stand in the findings. */
export interface DocumentCell {
  readonly text: Text;
  /** Levels by which a row head is set in, for lists that split the line above. */
  readonly depth?: number;
}

export interface DocumentTable {
  readonly kind: 'table';
  /** Unique in the document. */
  readonly key: string;
  readonly caption: Text;
  readonly columns: readonly {
    readonly label: string;
    readonly unit?: string;
    /** Text stands left; numbers stand right, so that their digits line up. */
    readonly align: 'left' | 'right';
  }[];
  /** The first cell of each row is its head. */
  readonly rows: readonly (readonly DocumentCell[])[];
  readonly notes: readonly Text[];
}

export interface DocumentFigure {
  readonly kind: 'figure';
  readonly figure: Figure;
  /** Stands under the drawing, after its number. */
  readonly caption: Text;
}

export type Block =
  | { readonly kind: 'paragraph'; readonly text: Text }
  /** The answer to a question, set apart by its weight. */
  | { readonly kind: 'statement'; readonly text: Text }
  | { readonly kind: 'note'; readonly text: Text }
  | { readonly kind: 'list'; readonly ordered: boolean; readonly items: readonly Text[] }
  | {
      readonly kind: 'definitions';
      readonly items: readonly { readonly term: string; readonly description: Text }[];
    }
  | DocumentTable
  | DocumentFigure;

export interface Section {
  /** Unique in the document; the target of references. */
  readonly key: string;
  readonly title: string;
  readonly blocks: readonly Block[];
  readonly sections: readonly Section[];
}

export interface ReportDocument {
  readonly language: 'en';
  readonly title: string;
  readonly subtitle: string;
  /** The ruled box at the top. */
  readonly caution: { readonly title: string; readonly items: readonly Text[] };
  readonly sections: readonly Section[];
  /** Stands at the very end: what made the document. */
  readonly colophon: Text;
}

/** Every block of a document in reading order. */
export function blocksOf(document: ReportDocument): readonly Block[] {
  const within = (section: Section): readonly Block[] => [
    ...section.blocks,
    ...section.sections.flatMap(within),
  ];
  return document.sections.flatMap(within);
}

/** Every figure of a document in reading order. */
export function figuresOf(document: ReportDocument): readonly Figure[] {
  return blocksOf(document).flatMap(block => (block.kind === 'figure' ? [block.figure] : []));
}

/** Keys of the works cited, in the order in which a reader meets them. */
export function citedKeys(document: ReportDocument): readonly string[] {
  const keys = new Set<string>();
  const read = (text: Text): void => {
    if (typeof text === 'string') return;
    for (const part of text) {
      if (typeof part !== 'string' && part.kind === 'citation') for (const key of part.keys) keys.add(key);
    }
  };
  for (const item of document.caution.items) read(item);
  for (const block of blocksOf(document)) for (const text of textsOf(block)) read(text);
  read(document.colophon);
  return [...keys];
}

function textsOf(block: Block): readonly Text[] {
  switch (block.kind) {
    case 'paragraph':
    case 'statement':
    case 'note':
      return [block.text];
    case 'list':
      return block.items;
    case 'definitions':
      return block.items.map(item => item.description);
    case 'figure':
      return [block.caption];
    default:
      return [block.caption, ...block.rows.flatMap(row => row.map(cell => cell.text)), ...block.notes];
  }
}
