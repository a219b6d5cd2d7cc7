import type { ScenarioSettings } from './index.ts';

export const TINY_CLINIC: ScenarioSettings = {
  name: 'tiny-clinic',
  description: 'Twelve feet seen by one clinician in a year: nearly everything is too few to say.',
  cohort: { feet: 12, recruitmentDays: 300, cutOffDaysAfter: 60 },
  sites: [{ code: 'pellmarsh', weight: 1, clinicians: 1 }],
};
