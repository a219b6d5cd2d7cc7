import type { ScenarioSettings } from './index.ts';

const SITES = 40;

export const NATIONAL_REGISTRY: ScenarioSettings = {
  name: 'national-registry',
  description: 'A hundred thousand feet at forty sites, each with a sensor in the brace: for load.',
  cohort: { feet: 100_000 },
  service: 'Registry of Vellmark (invented)',
  sites: Array.from({ length: SITES }, (_, i) => ({
    code: `district-${String(i + 1).padStart(2, '0')}`,
    // From small to large, stiff and supple, near and far, in no order that goes together.
    weight: 1 + ((i * 7) % 10),
    stiffness: ((i * 11) % 9) / 10 - 0.4,
    distance: ((i * 5) % 8) / 8 - 0.4,
    clinicians: 2 + (i % 5),
  })),
  wearLog: { sensorShare: 1, diaryShare: 0, recallShare: 0 },
};
