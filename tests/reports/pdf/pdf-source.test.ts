import { describe, expect, it } from 'vitest';
import { cohortReport } from '../../../src/reports/cohort/cohort-report.ts';
import { drawFigures } from '../../../src/reports/drawn-figures.ts';
import { pdfSource } from '../../../src/reports/pdf/pdf-source.ts';
import { type TableTexts, tableWidths } from '../../../src/reports/pdf/table-widths.ts';
import { PAGE } from '../../../src/reports/pdf/template.ts';
import { cohortInput } from '../fixtures/cohort-input.ts';
import { documentOf } from '../hostile-document.ts';

/** Every text of a value, wherever it stands. */
function textsOf(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(textsOf);
}

describe('the source of a PDF', () => {
  it('holds every text of the document', async () => {
    const document = cohortReport(cohortInput());
    const { report } = pdfSource(document, await drawFigures(document), 0);
    const given = new Set(textsOf(report));
    const { sections, caution, title, subtitle, colophon } = document;
    const left = textsOf({ caution, title, subtitle, colophon }).filter(text => !given.has(text));
    expect(left).toEqual([]);
    for (const section of sections) {
      expect(given).toContain(section.title);
      for (const block of section.blocks) {
        if (block.kind !== 'table') continue;
        for (const cell of block.rows.flat()) {
          const parts = typeof cell.text === 'string' ? [cell.text] : cell.text;
          for (const part of parts) {
            if (typeof part === 'string') expect(given).toContain(part);
            else if ('text' in part) expect(given).toContain(part.text);
          }
        }
      }
    }
  });

  it('has the same template whatever the report says', () => {
    const one = pdfSource(documentOf('one'), new Map(), 0);
    const other = pdfSource(documentOf('#other'), new Map(), 1);
    expect(one.template).toBe(other.template);
    expect(one.template).not.toContain('#other');
  });

  it('refuses a figure that was not drawn', () => {
    expect(() => pdfSource(cohortReport(cohortInput()), new Map(), 0)).toThrow('has not been drawn');
  });
});

describe('the widths of a table', () => {
  const table = (columns: number, cell: string, align: 'left' | 'right'): TableTexts => ({
    columns: Array.from({ length: columns }, (_, i) => ({
      label: `Head ${i}`,
      align: i === 0 ? ('left' as const) : align,
    })),
    rows: [Array.from({ length: columns }, () => ({ text: cell, code: false, depth: 0 }))],
  });
  const total = (widths: readonly number[]): number => widths.reduce((sum, width) => sum + width, 0);

  it('are those of its texts where there is room', () => {
    const { size, widths, wide } = tableWidths(table(3, '12 (9 to 15)', 'right'));
    expect({ size, wide }).toEqual({ size: 8.4, wide: false });
    expect(total(widths)).toBeLessThan(PAGE.textWidth);
  });

  it('stay on the page with long texts, which are broken at the largest type', () => {
    const { size, widths, wide } = tableWidths(table(4, 'a long text of many words '.repeat(8), 'left'));
    expect({ size, wide }).toEqual({ size: 8.4, wide: false });
    expect(total(widths)).toBeCloseTo(PAGE.textWidth, 6);
  });

  it('turn the page for numbers that do not fit upright, and never leave it', () => {
    const turned = tableWidths(table(10, '98.7 (97.6 to 99.8)', 'right'));
    expect(turned.wide).toBe(true);
    expect(total(turned.widths)).toBeLessThanOrEqual(PAGE.wideTextWidth + 1e-6);
    const squeezed = tableWidths(table(60, '98.7 (97.6 to 99.8)', 'right'));
    expect(total(squeezed.widths)).toBeLessThanOrEqual(PAGE.wideTextWidth + 1e-6);
  });
});
