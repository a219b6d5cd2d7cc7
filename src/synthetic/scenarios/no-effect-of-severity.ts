import type { ScenarioSettings } from './index.ts';

/**
 * The hours needed do not depend on stiffness; nor does anything else that could let severity in by another door:
 * case mix, the step-down from full time, referral and relapse. Positions are read without error and no foot drifts
 * before its correction, for both show differently in a foot with far to go and in one nearly there, and so would
 * make the therapist change the hours by severity.
 */
export const NO_EFFECT_OF_SEVERITY: ScenarioSettings = {
  name: 'no-effect-of-severity',
  description:
    'Severity at baseline has no bearing on correction, therapy or relapse: tests should find nothing.',
  sites: [
    { code: 'tarnholm', weight: 5, clinicians: 3 },
    { code: 'kestrel-quay', weight: 3, clinicians: 2 },
    { code: 'ombermoor', weight: 2, clinicians: 2 },
  ],
  correction: { logHoursPerStiffness: 0 },
  therapist: { rule: 'time alone' },
  referral: { stillSevere: 0.02, stillModerate: 0.02, stillMild: 0.02 },
  relapse: { perStiffness: 0, beforeCorrection: false },
  findings: { positionError: 0 },
};
