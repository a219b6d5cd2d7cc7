import type { ScenarioSettings } from './index.ts';

/** The committed sample: two years of recruitment, so that the last feet are still in therapy. */
export const SAMPLE_CLINIC: ScenarioSettings = {
  name: 'sample-clinic',
  description: 'The committed sample: three sites over 25 months.',
  cohort: { feet: 300, start: '2024-03-04', recruitmentDays: 750, cutOffDaysAfter: 14 },
  changes: [
    { what: 'teach-back', fromQuarter: 0, toQuarter: 8, atStart: -0.12, atEnd: 0.1 },
    {
      what: 'second checkup delay',
      site: 'kestrel-quay',
      fromQuarter: 4,
      toQuarter: 8,
      atStart: 2,
      atEnd: 12,
    },
    { what: 'skin events', fromQuarter: 7, toQuarter: 8, atStart: 1.6, atEnd: 2.2 },
  ],
  wearLog: { sensorShare: 0.3, diaryShare: 0.35 },
  truth: { infants: 10_000 },
};

/** A smaller one with data-entry flaws of every kind. */
export const SAMPLE_CLINIC_WITH_PROBLEMS: ScenarioSettings = {
  ...SAMPLE_CLINIC,
  name: 'sample-clinic-with-problems',
  description: 'Sixty feet of the same clinics, with data-entry flaws of every kind planted and listed.',
  cohort: { ...SAMPLE_CLINIC.cohort, feet: 60 },
  recording: { birthDateShare: 0.1 },
  flaws: { eachKind: 1 },
  truth: { infants: 0 },
};
