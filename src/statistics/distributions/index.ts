export {
  betaCumulative,
  betaLogCumulative,
  betaLogUpperTail,
  betaQuantile,
  betaQuantileUpper,
  betaUpperTail,
} from './beta.ts';
export {
  binomialCumulative,
  binomialLogCumulative,
  binomialLogProbability,
  binomialLogUpperTail,
  binomialQuantile,
  binomialUpperTail,
} from './binomial.ts';
export {
  chiSquareCumulative,
  chiSquareLogCumulative,
  chiSquareLogUpperTail,
  chiSquareQuantile,
  chiSquareQuantileUpper,
  chiSquareUpperTail,
} from './chi-square.ts';
export {
  fCumulative,
  fLogCumulative,
  fLogUpperTail,
  fQuantile,
  fQuantileUpper,
  fUpperTail,
} from './f.ts';
export { logGamma } from './gamma-function.ts';
export {
  gammaCumulative,
  gammaLogCumulative,
  gammaLogUpperTail,
  gammaQuantile,
  gammaQuantileUpper,
  gammaUpperTail,
} from './gamma.ts';
export {
  hypergeometricCumulative,
  hypergeometricLogCumulative,
  hypergeometricLogProbability,
  hypergeometricLogUpperTail,
  hypergeometricQuantile,
  hypergeometricUpperTail,
} from './hypergeometric.ts';
export type { Urn } from './hypergeometric.ts';
export { logBeta } from './incomplete-beta.ts';
export {
  normalCumulative,
  normalDensity,
  normalLogCumulative,
  normalLogUpperTail,
  normalQuantile,
  normalQuantileUpper,
  normalUpperTail,
  twoSidedNormal,
} from './normal.ts';
export {
  poissonCumulative,
  poissonLogCumulative,
  poissonLogUpperTail,
  poissonQuantile,
  poissonUpperTail,
} from './poisson.ts';
export {
  studentTCumulative,
  studentTLogCumulative,
  studentTLogUpperTail,
  studentTQuantile,
  studentTQuantileUpper,
  studentTUpperTail,
  twoSidedStudentT,
} from './student-t.ts';
