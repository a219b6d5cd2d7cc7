import type { Finding } from '../../analyses/finding.ts';
import type { Section } from '../document.ts';
import { findingTable } from './finding-table.ts';

/** The description of feet and infants at baseline. */
export function baselineSection(finding: Finding): Section {
  return {
    key: 'baseline',
    title: 'Feet and infants at baseline',
    blocks: [
      { kind: 'paragraph', text: finding.statement },
      ...finding.tables.map(table => findingTable(finding, table)),
      ...(finding.cautions.length > 0
        ? [{ kind: 'list', ordered: false, items: finding.cautions } as const]
        : []),
    ],
    sections: [],
  };
}
