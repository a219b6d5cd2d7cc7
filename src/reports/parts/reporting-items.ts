import type { DocumentCell, Section, Text } from '../document.ts';

/** An item of a reporting guideline in our own words, and the sections that meet it, or what the authors have to add. */
export interface ReportingItem {
  readonly guideline: 'STROBE' | 'RECORD';
  readonly item: string;
  readonly asks: string;
  /** Keys of sections of the same report; none where only the authors can say it. */
  readonly sections: readonly string[];
  readonly toAdd?: string;
}

/**
 * The items with the section in which each is met. A section that the report does not have is left out, and an item
 * with none left says that it is for the authors.
 */
export function reportingItemsSection(
  items: readonly ReportingItem[],
  sections: readonly Section[],
): Section {
  const titles = new Map(sections.map(({ key, title }) => [key, title]));
  return {
    key: 'reporting-items',
    title: 'Reporting guidelines, item by item',
    blocks: [
      {
        kind: 'paragraph',
        text: [
          'Where the report meets the items of the statements for observational studies',
          { kind: 'citation', keys: ['strobe-2007'] },
          ' and for routinely collected data',
          { kind: 'citation', keys: ['record-2015'] },
          '. Items on what only the authors know stay for them to write.',
        ],
      },
      {
        kind: 'table',
        key: 'reporting-items',
        caption: 'Items and sections',
        columns: [
          { label: 'Item', align: 'left' },
          { label: 'Asks for', align: 'left' },
          { label: 'Where', align: 'left' },
        ],
        rows: items.map(item => [
          { text: `${item.guideline} ${item.item}` },
          { text: item.asks },
          whereMet(item, titles),
        ]),
        notes: [],
      },
    ],
    sections: [],
  };
}

function whereMet(item: ReportingItem, titles: ReadonlyMap<string, string>): DocumentCell {
  const met = item.sections.flatMap(key => {
    const title = titles.get(key);
    return title === undefined ? [] : [{ key, title }];
  });
  if (met.length === 0) return { text: item.toAdd ?? 'For the authors to add' };
  const text: Text = met.flatMap(({ key, title }, i) => [
    ...(i === 0 ? [] : ['; ']),
    { kind: 'reference', target: { kind: 'section', key }, text: title } as const,
  ]);
  return { text: item.toAdd === undefined ? text : [...text, `; ${item.toAdd}`] };
}
