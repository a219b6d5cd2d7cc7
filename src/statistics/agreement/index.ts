export { agreementTable } from './agreement-table.ts';
export type { AgreementTable } from './agreement-table.ts';
export { cohensKappa } from './cohens-kappa.ts';
export type { Kappa, KappaOptions, KappaWeights, TwoRatings } from './cohens-kappa.ts';
export { intraclassCorrelation } from './intraclass-correlation.ts';
export type {
  IntraclassCorrelation,
  IntraclassForm,
  IntraclassOptions,
} from './intraclass-correlation.ts';
export { blandAltman } from './bland-altman.ts';
export type {
  AgreementLimit,
  LimitsOfAgreement,
  BlandAltmanOptions,
} from './bland-altman.ts';
export type { RatingMeanSquares } from './ratings-matrix.ts';
