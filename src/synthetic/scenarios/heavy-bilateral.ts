import type { ScenarioSettings } from './index.ts';

export const HEAVY_BILATERAL: ScenarioSettings = {
  name: 'heavy-bilateral',
  description:
    'Nearly every infant has both feet treated and the two are much alike: standard errors that take feet for independent are too small.',
  cohort: { bilateralShare: 0.92 },
  stiffness: { sharedByInfant: 0.85 },
  correction: { infantLogSpread: 0.4, shape: 4 },
};
