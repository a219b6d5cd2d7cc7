import { describe, expect, it } from 'vitest';
import { analyseAudit } from '../../src/analyses/audit/index.ts';
import { auditReport } from '../../src/reports/audit/audit-report.ts';
import { blocksOf, figuresOf, type Text } from '../../src/reports/document.ts';
import { type AuditFoot, cohortOf, planWith } from '../analyses/audit/hand-made.ts';
import { cohortInput } from './fixtures/cohort-input.ts';

const feet: readonly AuditFoot[] = [
  '2025-05-05',
  '2025-08-04',
  '2025-11-03',
  '2026-02-02',
  '2026-05-04',
].flatMap((start, quarter) =>
  Array.from({ length: 24 }, (_, i) => ({
    id: `SECRET-${quarter}-${i}`,
    start,
    end: [60, 'finished'] as const,
    site: i % 2 === 0 ? 'aspen' : 'birch',
    baseline: [4, true, true] as const,
    episode: { baseline_photo: quarter < 4 || i % 2 === 1, teach_back: true },
    phases: [[0, 24]] as const,
    seen: [[14], [42]] as const,
  })),
);
const plan = planWith();
const cohort = cohortOf(feet, '2026-07-10');
const findings = analyseAudit(cohort, plan, 'previous').map(({ finding }) => finding);
const report = auditReport({ ...cohortInput(), findings, plan });

function plain(text: Text): string {
  if (typeof text === 'string') return text;
  return text.map(part => (typeof part === 'string' ? part : 'text' in part ? part.text : '')).join('');
}

describe('the audit report', () => {
  it('has its sections in order', () => {
    expect(report.sections.map(({ key }) => key)).toEqual([
      'in-brief',
      'audit',
      'audit-charts',
      'audit-comparison',
      'audit-overdue',
      'actions',
      'data-problems',
      'methods',
      'limitations',
      'provenance',
      'plan',
    ]);
    expect(report.subtitle).toMatch(/^2026-Q2, /);
  });

  it('says what was found in five sentences or fewer and one figure', () => {
    const blocks = report.sections[0]?.blocks ?? [];
    const list = blocks.find(({ kind }) => kind === 'list');
    const items = list?.kind === 'list' ? list.items.map(plain) : [];
    expect(items.join(' ').match(/[.!?](?= [A-Z]|$)/g)?.length).toBeLessThanOrEqual(5);
    expect(items[1]).toContain('1 was not met (baseline photograph taken)');
    expect(items[2]).toContain('In 2026-Q2 there was a signal of change in baseline photograph taken');
    expect(blocks.filter(({ kind }) => kind === 'figure')).toHaveLength(1);
  });

  it('draws each chart once, and a funnel where a site lies outside', () => {
    const keys = figuresOf(report).map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toContain('audit-charts.skin-rate');
    expect(keys).toContain('audit-comparison.baseline-photograph');
    expect(keys).not.toContain('audit-comparison.teach-back');
  });

  it('leaves the actions to be filled in', () => {
    const table = blocksOf(report).find(block => block.kind === 'table' && block.key === 'actions');
    if (table?.kind !== 'table') throw new Error('no table of actions');
    expect(table.rows.map(row => plain(row[0]?.text ?? ''))).toEqual([
      'Not met: Baseline photograph taken',
      'Signal: Baseline photograph taken',
      'Other:',
      'Other:',
    ]);
    expect(table.rows.flatMap(row => row.slice(1).map(cell => cell.text))).toEqual(Array(12).fill(''));
  });

  it('holds no episode and is the same document for the same input', () => {
    expect(JSON.stringify(report)).not.toContain('SECRET-0');
    expect(JSON.stringify(auditReport({ ...cohortInput(), findings, plan }))).toBe(JSON.stringify(report));
  });
});
