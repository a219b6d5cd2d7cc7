import { textWidth as plainTextWidth } from '../../figures/text-width.ts';
import { COLUMN_GAP, PAGE, TABLE_STRETCH } from './template.ts';

/** A table as far as its widths depend on it: plain texts. */
export interface TableTexts {
  readonly columns: readonly {
    readonly label: string;
    readonly unit?: string;
    readonly align: 'left' | 'right';
  }[];
  readonly rows: readonly (readonly {
    readonly text: string;
    readonly code: boolean;
    readonly depth: number;
  }[])[];
}

export interface TableWidths {
  /** Size of the type, in points. */
  readonly size: number;
  /** Of each column with its share of the gaps, in points. */
  readonly widths: readonly number[];
  /** Whether the table needs a page turned on its side. */
  readonly wide: boolean;
}

const SIZES = [8.4, 7.8, 7.2, 6.6];
/** No type is made smaller than this to keep texts from being broken. */
const SMALLEST_UNBROKEN = 7.2;
const SMALLEST = 5.6;
/** Sooner than break the heads of rows into more than some two lines, a smaller type is taken. */
const HEAD_LETTERS = 22;

/** The advance of DejaVu Sans Mono, in ems, at the size at which code is set. */
const CODE_ADVANCE = 0.602 * 0.86;

/** Set in by as much for each level of depth, in points. */
const DEPTH = 10;

/**
 * The largest type at which a table fits the page with no number broken, upright if it can be, and with no text broken
 * if that costs little; columns of text take what the numbers leave, by what each is short of.
 */
export function tableWidths(table: TableTexts): TableWidths {
  const fitted = SIZES.map(size => ({ size, fit: fit(table, size, PAGE.textWidth) }));
  const upright = (
    fitted.find(({ size, fit }) => size >= SMALLEST_UNBROKEN && fit?.broken === false) ??
    SIZES.map(size => ({ fit: fit(table, size, PAGE.textWidth, HEAD_LETTERS) })).find(
      ({ fit }) => fit !== undefined,
    ) ??
    fitted.find(({ fit }) => fit !== undefined)
  )?.fit;
  if (upright !== undefined) return { size: upright.size, widths: upright.widths, wide: false };
  const turned = [HEAD_LETTERS, 0]
    .flatMap(letters => SIZES.map(size => fit(table, size, PAGE.wideTextWidth, letters)))
    .find(fitted => fitted !== undefined);
  if (turned !== undefined) return { size: turned.size, widths: turned.widths, wide: true };
  return { ...squeezed(table), wide: true };
}

interface ColumnNeed {
  readonly least: number;
  readonly natural: number;
}

interface Fit {
  readonly size: number;
  readonly widths: readonly number[];
  /** Whether a text is broken over lines. */
  readonly broken: boolean;
}

/** @param headLetters that the first column holds in a line at least, if its texts are as long */
function fit(table: TableTexts, size: number, room: number, headLetters = 0): Fit | undefined {
  const headWidth = textWidth('n'.repeat(headLetters), size);
  const needs = columnNeeds(table, size).map((need, i) =>
    i === 0 ? { ...need, least: Math.max(need.least, Math.min(headWidth, need.natural)) } : need,
  );
  const least = sum(needs.map(need => need.least));
  if (least > room) return undefined;
  const natural = sum(needs.map(need => need.natural));
  if (natural <= room) return { size, widths: needs.map(need => need.natural), broken: false };
  // What the least widths leave over is shared out by what each column is short of.
  const share = (room - least) / (natural - least);
  return {
    size,
    widths: needs.map(need => need.least + (need.natural - need.least) * share),
    broken: true,
  };
}

/** A table that fits nowhere: the smallest type, and widths in proportion. */
function squeezed(table: TableTexts): Omit<TableWidths, 'wide'> {
  const needs = columnNeeds(table, SMALLEST);
  const least = sum(needs.map(need => need.least));
  return { size: SMALLEST, widths: needs.map(need => (need.least / least) * PAGE.wideTextWidth) };
}

function textWidth(text: string, size: number, weight?: 'bold'): number {
  return plainTextWidth(text, size, weight) * TABLE_STRETCH;
}

function columnNeeds(table: TableTexts, size: number): readonly ColumnNeed[] {
  return table.columns.map((column, i) => {
    const gap = i === 0 || i === table.columns.length - 1 ? COLUMN_GAP / 2 : COLUMN_GAP;
    const heads = [column.label, column.unit ?? ''];
    const headWord = Math.max(...heads.flatMap(words).map(word => textWidth(word, size, 'bold')));
    const head = Math.max(...heads.map(text => textWidth(text, size, 'bold')));
    let least = headWord;
    let natural = column.align === 'right' ? headWord : head;
    for (const row of table.rows) {
      const cell = row[i];
      if (cell === undefined) continue;
      const width = (text: string): number =>
        (cell.code ? text.length * CODE_ADVANCE * size : textWidth(text, size)) + cell.depth * DEPTH;
      const whole = width(cell.text);
      natural = Math.max(natural, whole);
      // A number is never broken; a text in a column of numbers is, between words.
      const unbroken = column.align === 'right' && !/\p{L}{4}/u.test(cell.text);
      least = Math.max(least, unbroken ? whole : Math.max(...words(cell.text).map(width), 0));
    }
    // A hundredth over, so that rounding breaks no line.
    return { least: least * 1.01 + gap, natural: Math.max(natural, least) * 1.01 + gap };
  });
}

/** The stretches between which a line may be broken. */
function words(text: string): readonly string[] {
  return text.split(/[ \u2010-]/);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
