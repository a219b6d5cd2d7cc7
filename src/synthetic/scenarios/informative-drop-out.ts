import type { ScenarioSettings } from './index.ts';

export const INFORMATIVE_DROP_OUT: ScenarioSettings = {
  name: 'informative-drop-out',
  description:
    'Families whose infant is nearly corrected stop coming, distant ones more, so that loss to follow-up tells of the outcome and censoring it is biased.',
  leaving: { lostADay: 0.00035, lostPerProgress: 4, lostPerDistance: 0.7, withdrawnPerShortfall: 3 },
};
