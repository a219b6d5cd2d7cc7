import type { ScenarioSettings } from './index.ts';

export const FAILING_SITE: ScenarioSettings = {
  name: 'failing-site',
  description: 'Two sites that keep the audit standards and one, ombermoor, that fails them.',
  cohort: { feet: 360 },
  sites: [
    { code: 'tarnholm', weight: 4, teachBack: 0.95, baselinePhoto: 0.97, clinicians: 3 },
    { code: 'kestrel-quay', weight: 3, teachBack: 0.94, baselinePhoto: 0.96, clinicians: 2 },
    {
      code: 'ombermoor',
      weight: 3,
      distance: 3,
      clinicians: 2,
      teachBack: 0.5,
      baselinePhoto: 0.6,
      reviewInTime: 0.4,
      firstCheckupDelay: 6,
      secondCheckupDelay: 11,
      leftOpen: 0.4,
      missingFindings: 6,
    },
  ],
};
