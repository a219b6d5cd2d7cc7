import type { Curve } from '../analyses/finding.ts';
import { horizontalAxis, verticalMaximum, verticalTicks } from './curve-axes.ts';
import { capital } from './curve-words.ts';
import { FIGURE_WIDTHS, type FigureWidth } from './figure.ts';
import { mayBeSome } from '../wording/hidden-count.ts';
import { textWidth, wrapText } from './text-width.ts';

export const TITLE_SIZE = 15;
export const SUBTITLE_SIZE = 12;
export const TITLE_LINE = 20;
export const SUBTITLE_LINE = 16;

/** Kinds of row of the table under the axis, in their order. */
export type RiskRowKind = 'atRisk' | 'events' | 'competing' | 'censored';
const RISK_ROW_LABELS: Readonly<Record<RiskRowKind, string>> = {
  atRisk: 'At risk',
  events: 'Events',
  competing: 'Other ends',
  censored: 'Censored',
};

/** Every length of a figure of curves, in pixels from the top left corner of the plot. */
export interface CurveLayout {
  readonly titleLines: readonly string[];
  readonly subtitleLines: readonly string[];
  readonly sizeLines: readonly string[];
  readonly padding: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly plotWidth: number;
  readonly plotHeight: number;
  readonly textSize: number;
  readonly lineHeight: number;
  readonly labelGap: number;
  readonly xDomain: readonly [number, number];
  readonly xTicks: readonly number[];
  readonly yMaximum: number;
  readonly yTicks: readonly number[];
  readonly sizeTop: number;
  readonly headings: readonly { readonly group: string; readonly y: number }[];
  readonly rows: readonly {
    readonly group: string;
    readonly kind: RiskRowKind;
    readonly label: string;
    readonly y: number;
  }[];
}

export interface CurveWords {
  readonly title: string;
  readonly subtitle: string;
  readonly sizes: string;
}

/** Lays out a figure of one to four curves; nothing is left to the drawing library's guess of text widths. */
export function curveLayout(curves: readonly Curve[], words: CurveWords, width: FigureWidth): CurveLayout {
  const total = FIGURE_WIDTHS[width];
  const textSize = width === 'page' ? 11.5 : 10.5;
  const lineHeight = textSize + 4;
  const kinds = riskRowKinds(curves);
  const left = Math.ceil(Math.max(...kinds.map(kind => textWidth(RISK_ROW_LABELS[kind], textSize)))) + 28;
  const right =
    Math.ceil(Math.max(...curves.map(curve => textWidth(capital(curve.group), textSize, 'bold')))) + 18;
  const titleLines = wrapText(words.title, total - 8, TITLE_SIZE, 'bold');
  const subtitleLines = wrapText(words.subtitle, total - 8, SUBTITLE_SIZE);
  const sizeLines = wrapText(words.sizes, total - 8, textSize);
  const top = titleLines.length * TITLE_LINE + subtitleLines.length * SUBTITLE_LINE + 18;
  const plotHeight = width === 'page' ? 300 : 240;
  const sizeTop = plotHeight + 52;
  let y = sizeTop + (sizeLines.length - 1) * lineHeight + 8;
  const headings: { group: string; y: number }[] = [];
  const rows: { group: string; kind: RiskRowKind; label: string; y: number }[] = [];
  for (const curve of curves) {
    y += lineHeight + 5;
    headings.push({ group: curve.group, y });
    for (const kind of kinds) {
      y += lineHeight;
      rows.push({ group: curve.group, kind, label: RISK_ROW_LABELS[kind], y });
    }
  }
  const yMaximum = verticalMaximum(curves);
  return {
    titleLines,
    subtitleLines,
    sizeLines,
    padding: { left, right, top, bottom: Math.ceil(y - plotHeight + 10) },
    plotWidth: total - left - right,
    plotHeight,
    textSize,
    lineHeight,
    labelGap: textSize + 3,
    ...horizontalAxis(curves, total - left - right, textSize),
    yMaximum,
    yTicks: verticalTicks(yMaximum),
    sizeTop,
    headings,
    rows,
  };
}

function riskRowKinds(curves: readonly Curve[]): readonly RiskRowKind[] {
  const competing = curves.some(curve => curve.riskTable.competing.some(mayBeSome));
  return competing ? ['atRisk', 'events', 'competing', 'censored'] : ['atRisk', 'events', 'censored'];
}
