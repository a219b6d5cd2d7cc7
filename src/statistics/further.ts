// Statistics that a page of outcomes seldom needs: agreement of graders, missing values, summaries and splines of columns, and the
// distributions themselves. They come with the main entry and that for browsers, so that
// `forefoot-outcomes/statistics` stays small.
export * from './agreement/index.ts';
export { type ExactShareScores, exactShareScores } from './control-charts/exact-share-scores.ts';
export * from './descriptive/index.ts';
export * from './distributions/index.ts';
export * from './missing-data/index.ts';
export { splineColumns, splineKnots } from './regression/restricted-cubic-spline.ts';
