import type { ScenarioSettings } from './index.ts';

export const SKIN_CLUSTER: ScenarioSettings = {
  name: 'skin-cluster',
  description:
    'One quarter, the eighth, with four times the usual redness, blisters and sores; then as before.',
  cohort: { feet: 360 },
  changes: [{ what: 'skin events', fromQuarter: 7, toQuarter: 7, atStart: 4, atEnd: 4, lasts: false }],
};
