import type { Section } from '../document.ts';

/** Limits that every answer of the report shares; each question states its own beside its answer. */
export function limitationsSection(): Section {
  return {
    key: 'limitations',
    title: 'Limitations',
    blocks: [
      {
        kind: 'list',
        ordered: false,
        items: [
          'Who was offered a brace, and for how long, was decided in care. Groups differ in more than their severity, and no comparison here is adjusted for that.',
          'Severity rests on findings by hand and eye, which assessors do not always share.',
          'A foot is seen at checkups alone. What happened between two of them is not known to the day.',
          'Families who leave, or who record no wear, may differ from those who stay and record.',
          'Several groups and several times are looked at. An interval that just leaves out no difference is weak evidence.',
        ],
      },
    ],
    sections: [],
  };
}
