import type { ReportDocument } from '../document.ts';

/** What a reader of an audit must know before the first number. */
export const AUDIT_CAUTIONS: ReportDocument['caution'] = {
  title: 'Read this first',
  items: [
    'An audit compares a record with standards the service set itself. It describes groups, not one child, and sets no treatment.',
    'What is not recorded counts as not done. A standard that was not met may be a gap in the record.',
    'Small numbers vary from quarter to quarter by chance alone; that is why there are intervals, limits and the verdict “too few to say”.',
    'Differences between sites or clinicians are associations. Nothing here is adjusted for the feet treated, and nothing ranks anybody.',
    'Skin damage, pain, a change of colour or a foot that does not improve needs a clinician, under the local protocol.',
  ],
};
