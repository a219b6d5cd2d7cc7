import type { ReportDocument, Section } from '../document.ts';

/** What a reader must know before the first number. */
export const DURATION_CAUTIONS: ReportDocument['caution'] = {
  title: 'Read this first',
  items: [
    'The study describes groups of feet. It does not say how long the therapy of one child will take.',
    'Nothing here sets a treatment. The treating therapist and the referring doctor do that.',
    'Skin damage, pain, a change of colour or a foot that does not improve needs a clinician, under the local protocol.',
    'Severity and duration are associated or not; neither is shown to cause the other. Who is treated for longer is decided by people who see how severe the foot is.',
  ],
};

/** Limits of the study as a whole; each section states its own beside its answer. */
export function durationLimitations(): Section {
  return {
    key: 'limitations',
    title: 'Limitations',
    blocks: [
      {
        kind: 'list',
        ordered: false,
        items: [
          'The end of therapy is a decision. It follows the foot, and also the plan, the family and the diary of the clinic.',
          'Adjustment takes in what was recorded at baseline. What was not recorded, such as the reasons for a longer plan, may explain a difference.',
          'Severity rests on findings by hand and eye, which assessors do not always share.',
          'Feet still in therapy at the cut-off count up to that day. Their durations are not known, and models fill the gap by their form.',
          'Several models are shown. One that was chosen for its answer would mislead: read the planned one first, and the others as checks.',
        ],
      },
    ],
    sections: [],
  };
}
