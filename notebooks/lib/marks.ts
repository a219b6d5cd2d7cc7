import { type LineMark, PHASE_MARKS, SEVERITY_MARKS } from '../../src/figures/palette.ts';

/** Colour, weight and dash of a line as options of a mark of Plot. */
export interface PlotMark {
  readonly stroke: string;
  readonly strokeWidth: number;
  readonly strokeDasharray: string;
}

function plotMark({ colour, width, dash }: LineMark): PlotMark {
  return { stroke: colour, strokeWidth: width, strokeDasharray: dash.join(' ') || 'none' };
}

/** The severity bands in their order, drawn as in the reports: weight grows from mild to severe. */
export const BANDS = ['mild', 'moderate', 'severe'] as const;

export const bandMark = (band: (typeof BANDS)[number]): PlotMark => plotMark(SEVERITY_MARKS[band]);

/** The scale of colours of the bands, for the legend. */
export const BAND_COLOURS = {
  domain: BANDS,
  range: BANDS.map(band => SEVERITY_MARKS[band].colour),
};

/** The usual step-downs in their order, drawn in the hue of the phases. */
export const STEPS = ['24 to 15', '15 to 12', '12 to none'];

export const stepMark = (step: string): PlotMark =>
  plotMark(PHASE_MARKS[STEPS.indexOf(step)] ?? PHASE_MARKS.at(-1) ?? SEVERITY_MARKS.mild);
