import type { ScenarioSettings } from './index.ts';

export const STRONG_EFFECT: ScenarioSettings = {
  name: 'strong-effect',
  description:
    'Stiff feet need far more hours: tests should find the difference in a cohort of ordinary size.',
  correction: { logHoursPerStiffness: 0.55, infantLogSpread: 0.1 },
};
