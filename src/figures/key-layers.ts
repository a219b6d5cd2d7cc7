import { type ChartLayer, textLayer } from './chart-frame.ts';
import { INK, PAPER } from './palette.ts';
import { textWidth } from './text-width.ts';

/** How a kind of mark is drawn in the plot, and so in its key. */
export type KeyMark = { readonly kind: 'swatch'; readonly colour: string } | SymbolMark;

export interface SymbolMark {
  readonly kind: 'symbol';
  readonly shape: 'circle' | 'triangle-down' | 'cross' | 'triangle-right';
  /** Ink throughout, or paper with an edge of ink, which shows on dark ground too. */
  readonly filled: boolean;
}

export interface KeyEntry {
  readonly label: string;
  readonly mark: KeyMark;
}

export interface KeyPlace {
  readonly x: number;
  readonly y: number;
}

const SWATCH = 11;
const TEXT_AFTER = 17;
const ENTRY_GAP = 16;
export const KEY_LINE = 18;
export const SYMBOL_AREA = 42;

/** Places entries one behind another in lines no wider than `width`, from the left. */
export function keyPlaces(entries: readonly KeyEntry[], width: number, size: number): readonly KeyPlace[] {
  let x = 0;
  let y = 0;
  return entries.map(({ label }) => {
    const needed = TEXT_AFTER + textWidth(label, size);
    if (x > 0 && x + needed > width) {
      x = 0;
      y += KEY_LINE;
    }
    const place = { x, y };
    x += needed + ENTRY_GAP;
    return place;
  });
}

/** The key of a plot whose marks have no room for labels of their own; `left` and `top` from the corner of the plot. */
export function keyLayers(
  entries: readonly KeyEntry[],
  places: readonly KeyPlace[],
  { left, top, size }: { readonly left: number; readonly top: number; readonly size: number },
): readonly ChartLayer[] {
  return entries.flatMap(({ label, mark }, i): readonly ChartLayer[] => {
    const x = left + (places[i]?.x ?? 0);
    const y = top + (places[i]?.y ?? 0);
    return [markLayer(label, mark, x, y), textLayer(label, x + TEXT_AFTER, y, size)];
  });
}

function markLayer(label: string, mark: KeyMark, x: number, y: number): ChartLayer {
  const name = `key of ${label}`;
  if (mark.kind === 'swatch') {
    return {
      name,
      data: { values: [{}] },
      mark: { type: 'rect', color: mark.colour, stroke: INK, strokeWidth: 0.5 },
      encoding: {
        x: { value: x },
        x2: { value: x + SWATCH },
        y: { value: y - SWATCH / 2 },
        y2: { value: y + SWATCH / 2 },
      },
    };
  }
  return {
    name,
    data: { values: [{}] },
    mark: symbolMark(mark),
    encoding: { x: { value: x + SWATCH / 2 }, y: { value: y } },
  };
}

/** The look of a symbol, the same in the plot and in its key. */
export function symbolMark({ shape, filled }: SymbolMark): {
  readonly type: 'point';
  readonly shape: string;
  readonly fill: string;
  readonly stroke: string;
  readonly strokeWidth: number;
  readonly size: number;
  readonly opacity: number;
} {
  return {
    type: 'point',
    shape,
    fill: filled ? INK : PAPER,
    stroke: INK,
    strokeWidth: 1.25,
    size: SYMBOL_AREA,
    opacity: 1,
  };
}
