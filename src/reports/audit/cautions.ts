import type { ReportDocument } from '../document.ts';

/** What a reader of an audit must know before the first number. */
export const AUDIT_CAUTIONS: ReportDocument['caution'] = {
  title: 'Read this first',
  items: [
    'An audit compares a record with standards of the service itself. It describes groups, not one child, and sets no treatment.',
    'What is not recorded counts as not done, and small numbers vary by chance from quarter to quarter.',
    'Differences between sites or clinicians are associations, not adjusted for the feet treated. Nobody is ranked.',
    'Skin damage, pain, a change of colour or a foot that does not improve needs a clinician, under the local protocol.',
  ],
};
