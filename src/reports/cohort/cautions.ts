import type { ReportDocument } from '../document.ts';

/** What a reader must know before the first number. */
export const COHORT_CAUTIONS: ReportDocument['caution'] = {
  title: 'Read this first',
  items: [
    'The numbers describe groups of feet. They do not say what will happen to one child.',
    'Nothing here sets a treatment. The treating therapist and the referring doctor do that.',
    'Skin damage, pain, a change of colour or a foot that does not improve needs a clinician, under the local protocol.',
    'The data were observed in ordinary care. Differences between groups are associations; they do not show that the brace, or anything else, caused them.',
    'Many flexible feet straighten without treatment, so correction must not be put down to the brace alone.',
  ],
};
