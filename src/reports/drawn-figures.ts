import { type FigureWidth, renderSvg } from '../figures/index.ts';
import { figuresOf, type ReportDocument } from './document.ts';

/** The figures of a document as SVG, by key and width. */
export type DrawnFigures = ReadonlyMap<string, Readonly<Record<FigureWidth, string>>>;

/**
 * Draws every figure of a document once, for all formats.
 *
 * @throws RangeError if two different figures have the same key
 */
export async function drawFigures(document: ReportDocument): Promise<DrawnFigures> {
  const drawn = new Map<string, Readonly<Record<FigureWidth, string>>>();
  for (const figure of figuresOf(document)) {
    if (drawn.has(figure.key)) throw new RangeError(`the report has two figures with the key ${figure.key}`);
    drawn.set(figure.key, {
      page: await renderSvg(figure, 'page'),
      narrow: await renderSvg(figure, 'narrow'),
    });
  }
  return drawn;
}
