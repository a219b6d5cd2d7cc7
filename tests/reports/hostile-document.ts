import type { ReportDocument } from '../../src/reports/document.ts';
import { deepFreeze } from './fixtures/load.ts';

/** A document with one text in every place that can hold a text. */
export function documentOf(text: string): ReportDocument {
  return deepFreeze<ReportDocument>({
    language: 'en',
    title: text,
    subtitle: text,
    caution: { title: text, items: [text] },
    sections: [
      {
        key: text,
        title: text,
        blocks: [
          {
            kind: 'paragraph',
            text: [text, { kind: 'code', text }, { kind: 'strong', text }],
          },
          { kind: 'statement', text },
          { kind: 'note', text: [{ kind: 'emphasis', text }] },
          { kind: 'list', ordered: true, items: [text] },
          { kind: 'definitions', items: [{ term: text, description: text }] },
          {
            kind: 'paragraph',
            text: [{ kind: 'reference', target: { kind: 'section', key: text }, text }],
          },
          {
            kind: 'table',
            key: text,
            caption: text,
            columns: [
              { label: text, unit: text, align: 'left' },
              { label: text, align: 'right' },
            ],
            rows: [[{ text }, { text }]],
            notes: [text],
          },
        ],
        sections: [],
      },
    ],
    colophon: text,
  });
}
