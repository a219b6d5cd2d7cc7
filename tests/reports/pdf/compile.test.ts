import { beforeAll, describe, expect, it } from 'vitest';
import { cohortReport } from '../../../src/reports/cohort/cohort-report.ts';
import { blocksOf, figuresOf, type ReportDocument } from '../../../src/reports/document.ts';
import { type DrawnFigures, drawFigures } from '../../../src/reports/drawn-figures.ts';
import { compilePdf } from '../../../src/reports/pdf/compile.ts';
import { pdfSource } from '../../../src/reports/pdf/pdf-source.ts';
import { cohortInput } from '../fixtures/cohort-input.ts';
import { documentOf } from '../hostile-document.ts';
import { bookmarks, pdfObjects } from './pdf-text.ts';

/** Markup, code, labels, comments and escapes of the typesetter, and a parenthesis for the PDF itself. */
const HOSTILE =
  '#panic("x") #read("/etc/passwd") *a* _b_ `c` $d$ <e> @f = g\n= h // i /* j */ \\ #{ [ ] } "k" ~ -- ... ) (';

let document: ReportDocument;
let drawn: DrawnFigures;
let pdf: Uint8Array;
let objects = '';

beforeAll(async () => {
  const input = cohortInput();
  document = cohortReport(input);
  drawn = await drawFigures(document);
  pdf = await compilePdf(pdfSource(document, drawn, 20_550));
  objects = pdfObjects(pdf);
});

describe('the PDF of a report', () => {
  it('is tagged, and says that it is PDF/UA-1', () => {
    expect(Buffer.from(pdf.subarray(0, 5)).toString()).toBe('%PDF-');
    expect(objects).toContain('pdfuaid:part>1<');
    expect(objects).toMatch(/\/MarkInfo\s*<<[^>]*\/Marked true/);
    expect(objects).toMatch(/\/Lang\s*\(en\)/);
    expect(objects).toMatch(/\/DisplayDocTitle true/);
  });

  it('has a bookmark for every section, in order', () => {
    const titles = bookmarks(objects);
    const expected = document.sections.map(({ title }) => title);
    expect(titles.filter(title => expected.includes(title))).toEqual(expected);
    expect(titles).toContain('References');
  });

  it('has a head for every table and a text for every figure', () => {
    const tables = blocksOf(document).filter(block => block.kind === 'table');
    expect(objects.match(/\/S \/Table\b/g)).toHaveLength(tables.length);
    expect(objects.match(/\/S \/THead\b/g)).toHaveLength(tables.length);
    expect(objects.match(/\/S \/Figure\b/g)).toHaveLength(figuresOf(document).length);
    expect(objects.match(/\/Alt\b/g)?.length).toBeGreaterThanOrEqual(figuresOf(document).length);
  });

  it('is the same bytes twice, and carries the data cut-off as its date', async () => {
    const again = await compilePdf(pdfSource(document, drawn, 20_550));
    expect(Buffer.from(again).equals(Buffer.from(pdf))).toBe(true);
    // 20 550 days after 1970-01-01.
    expect(objects).toMatch(/\/CreationDate \(D:20260407/);
  });
});

describe('hostile text', () => {
  it('is set as it stands, and is no markup', async () => {
    const set = pdfObjects(await compilePdf(pdfSource(documentOf(HOSTILE), new Map(), 0)));
    expect(bookmarks(set)).toContain(HOSTILE);
    expect(bookmarks(set)).not.toContain('h');
  });

  it.each([
    ['a character that no face has', 'Klinik \u65e5\u672c \u{1F9B6}', 'Klinik \uFFFD\uFFFD \uFFFD'],
    ['a control character', 'a\u0000b\u0007c', 'a\uFFFDb\uFFFDc'],
    ['half a character', 'a\uD800b', 'a\uFFFDb'],
  ])('stands as a replacement where it is %s', async (_, text, shown) => {
    const set = pdfObjects(await compilePdf(pdfSource(documentOf(text), new Map(), 0)));
    expect(bookmarks(set)).toContain(shown);
  });

  it.each([
    ['a long word', 'x'.repeat(2000)],
    ['a change of direction', 'a\u202Eb'],
  ])('can be set: %s', async (_, text) => {
    const bytes = await compilePdf(pdfSource(documentOf(text), new Map(), 0));
    expect(bytes.length).toBeGreaterThan(1000);
  });

  it('is refused in words where a title is empty, which no reader of a tagged PDF could find', async () => {
    await expect(compilePdf(pdfSource(documentOf(''), new Map(), 0))).rejects.toThrow(
      /^the PDF cannot be set: .*heading title is empty/,
    );
  });
});
