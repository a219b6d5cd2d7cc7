import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/analyses/finding.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { cohortReport } from '../../src/reports/cohort/cohort-report.ts';
import {
  blocksOf,
  type DocumentTable,
  figuresOf,
  type ReportDocument,
  type Text,
} from '../../src/reports/document.ts';
import { provenanceOf } from '../../src/reports/provenance.ts';
import { formatDecimal, formatPercentNumber, formatPValue } from '../../src/wording/format.ts';
import { cohortInput } from './fixtures/cohort-input.ts';
import { fixtureFindings } from './fixtures/load.ts';

const report = cohortReport(cohortInput());

function plain(text: Text): string {
  if (typeof text === 'string') return text;
  return text.map(part => (typeof part === 'string' ? part : 'text' in part ? part.text : '')).join('');
}

function tableOf(document: ReportDocument, key: string): DocumentTable {
  const table = blocksOf(document).find(block => block.kind === 'table' && block.key === key);
  if (table?.kind !== 'table') throw new Error(`the report has no table ${key}`);
  return table;
}

/** Every number of a finding, wherever it stands. */
function numbersIn(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}

/** Every way in which the formatter may print a number of a finding. */
function printed(finding: Finding): ReadonlySet<string> {
  const ways = numbersIn(finding).flatMap(number => [
    ...[0, 1, 2].map(decimals => formatDecimal(number, decimals)),
    ...(number >= 0 && number <= 1 ? [formatPercentNumber(number), formatPValue(number)] : []),
  ]);
  const shares = finding.tables
    .flatMap(table => table.rows.flatMap(row => Object.values(row)))
    .flatMap(cell =>
      typeof cell === 'object' && 'count' in cell ? [formatPercentNumber(cell.count / cell.of)] : [],
    );
  return new Set([...ways, ...shares]);
}

describe('the first page', () => {
  const [first] = report.sections;

  it('says what was found in five sentences or fewer and one figure', () => {
    const blocks = first?.blocks ?? [];
    expect(first?.key).toBe('in-brief');
    const list = blocks.find(block => block.kind === 'list');
    const items = list?.kind === 'list' ? list.items : [];
    expect(
      items
        .map(plain)
        .join(' ')
        .match(/[.!?](?= [A-Z]|$)/g)?.length,
    ).toBeLessThanOrEqual(5);
    expect(plain(items[0] ?? '')).toContain('286 feet of 158 infants');
    expect(blocks.filter(block => block.kind === 'figure')).toHaveLength(1);
  });

  it('carries the cautions before anything else', () => {
    const cautions = report.caution.items.map(plain).join(' ');
    for (const word of ['groups', 'one child', 'referring doctor', 'Skin damage', 'associations']) {
      expect(cautions).toContain(word);
    }
  });
});

describe('the report', () => {
  it('has its sections in order', () => {
    expect(report.sections.map(({ key }) => key)).toEqual([
      'in-brief',
      'participants',
      'baseline',
      'time-to-correction',
      'relapse-after-step-down',
      'adherence',
      'data-problems',
      'methods',
      'limitations',
      'glossary',
      'reporting-items',
      'provenance',
      'plan',
    ]);
  });

  it('states each finding in its own words, with every figure once', () => {
    for (const finding of fixtureFindings().slice(1)) {
      const section = report.sections.find(({ key }) => key === finding.key);
      const said = section?.blocks.flatMap(block =>
        block.kind === 'statement' || block.kind === 'paragraph' ? [plain(block.text)] : [],
      );
      expect(said?.join(' ')).toContain(finding.statement);
    }
    expect(figuresOf(report).map(({ key }) => key)).toEqual([
      'time-to-correction.incidence',
      'relapse-after-step-down.relapse',
      'adherence.lapse',
      'adherence.discontinuation',
    ]);
    expect(figuresOf(report)[0]?.title).toBe('Half of severe feet were corrected by week 8.7');
  });

  it('has no section for a question without a finding', () => {
    const { sections } = cohortReport({ ...cohortInput(), findings: [] });
    expect(sections.map(({ key }) => key)).not.toContain('adherence');
    expect(sections.map(({ key }) => key)).not.toContain('baseline');
  });

  it('prints no number in a table of a finding that the finding lacks', () => {
    let checked = 0;
    for (const finding of fixtureFindings()) {
      const allowed = printed(finding);
      for (const block of blocksOf(report)) {
        if (block.kind !== 'table' || !block.key.startsWith(`${finding.key}.`)) continue;
        for (const cell of block.rows.flatMap(row => row.slice(1))) {
          const text = plain(cell.text);
          if (/[a-z]{4}/.test(text)) continue;
          for (const number of text.replaceAll('\u202F%', '').match(/[<>]?\u202F?\u2212?[\d.]*\d/g) ?? []) {
            expect(allowed).toContain(number);
            checked++;
          }
        }
      }
    }
    expect(checked).toBeGreaterThan(60);
  });

  it('lists feet and infants of the flow, and no infants where only rows were counted', () => {
    const rows = tableOf(report, 'participants').rows.map(row => row.map(cell => plain(cell.text)));
    expect(rows[0]).toEqual(['Episodes in the file', '291', '\u2013']);
    expect(rows[2]).toEqual(['Accepted', '286', '158']);
    expect(tableOf(report, 'participants').rows[5]?.[0]?.depth).toBe(2);
  });

  it('counts problems by kind, and says nothing of rows when there are none', () => {
    const rows = tableOf(report, 'data-problems').rows.map(row => row.map(cell => plain(cell.text)));
    expect(rows).toEqual([
      ['episodes.csv', 'not a date', 'refused', '2'],
      ['phases.csv', 'gap', 'kept', '1'],
      ['wear.csv', 'unknown episode', 'refused', '23'],
    ]);
    const input = cohortInput();
    const clean = cohortReport({ ...input, provenance: { ...input.provenance, problems: [] } });
    expect(JSON.stringify(clean.sections)).toContain('No problem was found');
  });

  it('prints the whole plan', () => {
    const fields = tableOf(report, 'plan').rows.map(row => [
      plain(row[0]?.text ?? ''),
      plain(row[1]?.text ?? ''),
    ]);
    expect(fields).toContainEqual(['bisectorAtMost', '2.5']);
    expect(fields).toContainEqual(['hours', '24, 15, 12']);
    expect(fields).toContainEqual(['byInfant', 'yes']);
    expect(fields.filter(([, value]) => value !== '')).toHaveLength(leaves(defaultPlan()));
  });

  it('holds no episode, value or message', () => {
    expect(JSON.stringify(report)).not.toContain('SECRET');
  });

  it('is the same document for the same input', () => {
    expect(JSON.stringify(cohortReport(cohortInput()))).toBe(JSON.stringify(report));
  });
});

describe('provenance', () => {
  it('hashes the plan whatever the order of its fields', () => {
    const count = { file: 'x.csv', read: 1, accepted: 1, refused: 0, sha256: '', extraColumns: [] };
    const records = {
      service: 'S',
      cutOff: 0,
      cutOffGiven: false,
      exportedAt: undefined,
      problemCounts: [],
      counts: { episodes: count, assessments: count, phases: count, wear: count, events: count },
    };
    const software = { name: 'forefoot-outcomes', version: '0.1.0' };
    const plan = defaultPlan();
    const turned = Object.fromEntries(Object.entries(plan).reverse()) as typeof plan;
    const one = provenanceOf(records, plan, software);
    expect(one.planSha256).toMatch(/^[0-9a-f]{64}$/);
    expect(provenanceOf(records, turned, software).planSha256).toBe(one.planSha256);
    expect(provenanceOf(records, { ...plan, seed: 1 }, software).planSha256).not.toBe(one.planSha256);
    expect(one.files).toHaveLength(5);
  });
});

function leaves(value: unknown): number {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return 1;
  return Object.values(value).reduce((sum: number, field) => sum + leaves(field), 0);
}
