import type { Plan } from '../../plan/plan.ts';
import type { DocumentTable, Section } from '../document.ts';

/** The whole plan as it was used, one line a field, with its hash. */
export function planSection(plan: Plan, planSha256: string): Section {
  return {
    key: 'plan',
    title: 'The analysis plan',
    blocks: [
      {
        kind: 'paragraph',
        text: [
          'Every definition and threshold behind the numbers above. SHA-256 of the plan: ',
          { kind: 'code', text: planSha256 },
          '.',
        ],
      },
      planTable(plan),
    ],
    sections: [],
  };
}

function planTable(plan: Plan): DocumentTable {
  return {
    kind: 'table',
    key: 'plan',
    caption: 'Fields of the plan and their values',
    columns: [
      { label: 'Field', align: 'left' },
      { label: 'Value', align: 'left' },
    ],
    rows: fieldsOf(plan, '').map(([field, value]) => [
      { text: [{ kind: 'code', text: field }] },
      { text: value },
    ]),
    notes: [],
  };
}

function fieldsOf(value: unknown, path: string): readonly (readonly [string, string])[] {
  if (Array.isArray(value)) return [[path, value.map(String).join(', ')]];
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value).flatMap(([key, field]) =>
      fieldsOf(field, path === '' ? key : `${path}.${key}`),
    );
  }
  if (typeof value === 'boolean') return [[path, value ? 'yes' : 'no']];
  return [[path, String(value)]];
}
