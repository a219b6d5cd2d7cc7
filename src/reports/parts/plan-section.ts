import type { Plan } from '../../plan/plan.ts';
import type { DocumentCell, DocumentTable, Section } from '../document.ts';

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
    rows: rowsOf(plan, 0),
    notes: [],
  };
}

/** A group of fields has a line of its own; its fields are set in below it. */
function rowsOf(group: object, depth: number): DocumentTable['rows'] {
  return Object.entries(group).flatMap(([name, value]: [string, unknown]): DocumentTable['rows'] => {
    const head: DocumentCell = { text: [{ kind: 'code', text: name }], depth };
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
      return [[head, { text: '' }], ...rowsOf(value, depth + 1)];
    }
    return [[head, { text: valueText(value) }]];
  });
}

function valueText(value: unknown): string {
  if (Array.isArray(value)) return value.map(String).join(', ');
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return String(value);
}
