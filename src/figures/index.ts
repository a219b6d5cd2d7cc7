export { type CurveFamily, curveFamilies } from './curve-families.ts';
export { type CurveFigureOptions, curveFigure } from './curve-figure.ts';
export { curveAt, lastFollowUp, quotableTick } from './curve-reading.ts';
export { type CurveUnit, curveTitle } from './curve-words.ts';
export { type ForestFigureOptions, type ForestRow, forestFigure } from './forest-figure.ts';
export { FIGURE_WIDTHS, type Figure, type FigureValues, type FigureWidth, type PlotArea } from './figure.ts';
export { contrastRatio, type LineMark, lineMarks, PHASE_MARKS, SEVERITY_MARKS } from './palette.ts';
export { renderSvg } from './render-svg.ts';
