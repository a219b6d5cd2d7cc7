import * as z from 'zod';
import { date, number, share, whole, words } from './parameter.ts';
import {
  adherenceSchema,
  findingsSchema,
  leavingSchema,
  referralSchema,
  therapistSchema,
  visitsSchema,
} from './scenario-clinic.ts';
import { correctionSchema, relapseSchema, skinSchema, stiffnessSchema } from './scenario-foot.ts';
import { changeSchema, recordingSchema, siteSchema, wearLogSchema } from './scenario-records.ts';
import { flawsSchema } from './scenario-flaws.ts';

/**
 * A scenario: every parameter of the generator, each with its meaning and the source of its default (`invented`
 * where there is none). `scenario.yaml` may leave out whatever should keep its default.
 */
export const scenarioSchema = z.strictObject({
  name: words('ordinary clinic', 'Name of the scenario.'),
  description: words(
    'An ordinary clinic network over twelve quarters.',
    'What the scenario is for, in a sentence.',
  ),
  service: words('Tarnholm Forefoot Network (invented)', 'Name of the invented service, for export.yaml.'),
  cohort: z
    .strictObject({
      feet: whole(1, 10_000_000, 240, 'Number of feet, unless the command line gives another.'),
      start: date('2023-01-02', 'First day on which a brace may be fitted.'),
      recruitmentDays: whole(1, 20000, 1090, 'Days over which first fittings are spread evenly.'),
      cutOffDaysAfter: whole(2, 2000, 5, 'Days from the end of recruitment to the data cut-off.'),
      bilateralShare: share(
        0.4,
        'Share of infants with both feet treated.',
        'common practice: about half have both feet affected',
      ),
      straightFitted: share(
        0.07,
        'Chance that a foot already straight and flexible is fitted all the same; other such feet are not fitted and drawn anew.',
      ),
      ageMedianDays: number(10, 1000, 110, 'Median age at first fitting.'),
      ageLogSpread: number(0, 2, 0.5, 'Standard deviation of the logarithm of age.'),
    })
    .prefault({}),
  sites: z
    .array(siteSchema)
    .min(1)
    .max(50)
    .prefault([
      { code: 'tarnholm', weight: 5, stiffness: 0, distance: 0, clinicians: 3 },
      { code: 'kestrel-quay', weight: 3, stiffness: 0.35, distance: 0.3, clinicians: 2 },
      { code: 'ombermoor', weight: 2, stiffness: -0.25, distance: 0.9, clinicians: 2 },
    ]),
  stiffness: stiffnessSchema,
  correction: correctionSchema,
  adherence: adherenceSchema,
  visits: visitsSchema,
  findings: findingsSchema,
  therapist: therapistSchema,
  referral: referralSchema,
  relapse: relapseSchema,
  leaving: leavingSchema,
  skin: skinSchema,
  changes: z
    .array(changeSchema)
    .prefault([])
    .meta({ description: 'Changes over the calendar quarters.', source: 'invented' }),
  wearLog: wearLogSchema,
  recording: recordingSchema,
  flaws: flawsSchema,
  truth: z
    .strictObject({
      infants: whole(
        0,
        1_000_000,
        20_000,
        'Infants simulated without loss to follow-up for truth.json; 0 leaves the large simulation out.',
      ),
      weeks: whole(1, 104, 30, 'Weeks covered by the curves of truth.json.'),
    })
    .prefault({}),
});

export type Scenario = z.infer<typeof scenarioSchema>;
export type Site = Scenario['sites'][number];
