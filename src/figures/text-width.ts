import { BOLD_WIDTHS, REGULAR_WIDTHS, type WidthRun } from './advance-widths.ts';

/** Width taken for a character that the tables lack, in thousandths of the type size. */
const UNKNOWN_WIDTH = 700;

/**
 * Width of a line of text in pixels: the sum of the advance widths of DejaVu Sans (no kerning) times the size.
 * DejaVu Sans is wider than the usual system faces, so that what fits by this measure fits in those too.
 */
export function textWidth(text: string, size: number, weight: 'regular' | 'bold' = 'regular'): number {
  const runs = weight === 'bold' ? BOLD_WIDTHS : REGULAR_WIDTHS;
  let sum = 0;
  for (const character of text) sum += advance(runs, character.codePointAt(0) ?? 0);
  return (sum * size) / 1000;
}

/** Breaks a text at spaces into lines no wider than `width` pixels; a single longer word keeps a line of its own. */
export function wrapText(
  text: string,
  width: number,
  size: number,
  weight: 'regular' | 'bold' = 'regular',
): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').filter(part => part !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size, weight) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  if (line !== '') lines.push(line);
  return lines;
}

function advance(runs: readonly WidthRun[], code: number): number {
  for (const run of runs) {
    const width = run.widths[code - run.first];
    if (width !== undefined) return width;
  }
  return UNKNOWN_WIDTH;
}
