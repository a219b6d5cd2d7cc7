import type { Section } from '../document.ts';

/** Limits that every answer of the audit shares. */
export function auditLimitations(): Section {
  return {
    key: 'limitations',
    title: 'Limitations',
    blocks: [
      {
        kind: 'list',
        ordered: false,
        items: [
          'The audit knows what the export holds. Care that was given and not recorded is not seen.',
          'Each standard looks at one step of the therapy. Together they do not add up to a measure of quality.',
          'What falls due in a quarter depends on who was fitted before; a change can come from the families as well as from the service.',
          'An earlier quarter can change when its records are completed later. The data cut-off says what was known.',
          'Many standards, quarters and sites are looked at. One result that stands out is weak evidence until the next quarter shows it too.',
        ],
      },
    ],
    sections: [],
  };
}
