import { describe, expect, it } from 'vitest';
import { actionSection } from '../../src/reports/audit/action-table.ts';
import { findingOf } from './disclosure/findings.ts';

describe('the table of actions', () => {
  it('has a line for every standard not met, also one whose counts are hidden', () => {
    const standards = {
      key: 'standards',
      title: 'Standards',
      columns: [
        { key: 'standard', label: 'Standard', kind: 'text' as const },
        { key: 'verdict', label: 'Verdict', kind: 'text' as const },
      ],
      rows: [
        { standard: 'Teach-back done', verdict: 'not met' },
        { standard: 'Closed with a reason', verdict: 'met' },
        { standard: 'Blister or sore reviewed in time', verdict: 'not met' },
      ],
      notes: [],
    };
    const [, table] = actionSection([findingOf({ standards: [], tables: [standards] })]).blocks;
    expect(table).toMatchObject({
      rows: [
        [{ text: 'Not met: Teach-back done' }, {}, {}, {}],
        [{ text: 'Not met: Blister or sore reviewed in time' }, {}, {}, {}],
        [{ text: 'Other:' }, {}, {}, {}],
        [{ text: 'Other:' }, {}, {}, {}],
      ],
    });
  });
});
