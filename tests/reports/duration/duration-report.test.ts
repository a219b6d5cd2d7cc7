import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { analyseDuration, baseline } from '../../../src/analyses/index.ts';
import { outcomesOf } from '../../../src/cli/outcomes.ts';
import {
  blocksOf,
  figuresOf,
  type ReportDocument,
  type Section,
  type Text,
} from '../../../src/reports/document.ts';
import { durationReport } from '../../../src/reports/duration/duration-report.ts';
import type { FindingsInput } from '../../../src/reports/findings-document.ts';
import { reportFiles } from '../../../src/reports/report-files.ts';
import { deepFreeze } from '../fixtures/load.ts';

const SAMPLE = fileURLToPath(new URL('../../../synthetic-data', import.meta.url));

let input: FindingsInput;
let report: ReportDocument;

beforeAll(async () => {
  const context = { out: () => {}, log: () => {}, terminal: false, setExitCode: () => {} };
  const found = await outcomesOf(SAMPLE, {}, context, (_records, plan, cohort) => [
    baseline(cohort, plan),
    ...analyseDuration(cohort, plan),
  ]);
  input = deepFreeze(found);
  report = durationReport(input);
}, 120_000);

function plain(text: Text): string {
  if (typeof text === 'string') return text;
  return text.map(part => (typeof part === 'string' ? part : 'text' in part ? part.text : '')).join('');
}

function sectionOf(document: ReportDocument, key: string): Section {
  const section = document.sections.find(candidate => candidate.key === key);
  if (section === undefined) throw new Error(`the report has no section ${key}`);
  return section;
}

function linesOf(section: Section): readonly string[] {
  return section.blocks.flatMap(block =>
    block.kind === 'list' ? block.items.map(plain) : 'text' in block ? [plain(block.text)] : [],
  );
}

describe('the first page of the duration study', () => {
  it('has five sentences and one figure, and says by which distribution the ratio is what', () => {
    const { blocks } = sectionOf(report, 'in-brief');
    const list = blocks.find(block => block.kind === 'list');
    const items = list?.kind === 'list' ? list.items.map(plain) : [];
    expect(items).toHaveLength(5);
    expect(items.join(' ')).toContain('Severe feet took');
    expect(items.join(' ')).toContain('log-logistic');
    expect(blocks.filter(({ kind }) => kind === 'figure')).toHaveLength(1);
  });
});

describe('the duration study', () => {
  it('has its sections in order', () => {
    expect(report.sections.map(({ key }) => key)).toEqual([
      'in-brief',
      'participants',
      'baseline',
      'severity-and-duration',
      'competing-ends',
      'duration-model-checks',
      'duration-missing-findings',
      'duration-next-study',
      'data-problems',
      'methods',
      'limitations',
      'glossary',
      'reporting-items',
      'provenance',
      'plan',
    ]);
  });

  it('draws every plot of the model checks, and each figure once', () => {
    const keys = figuresOf(report).map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    const plots = input.findings.flatMap(finding =>
      (finding.plots ?? []).map(({ key }) => `${finding.key}.${key}`),
    );
    expect(plots.length).toBeGreaterThan(4);
    expect(keys).toEqual(expect.arrayContaining(plots));
  });

  it('sets the ratio of the planned distribution beside those of the others', () => {
    const figure = figuresOf(report).find(({ key }) => key === 'duration-model-checks.by-distribution');
    expect(figure?.values?.rows.map(({ cells }) => cells[0])).toEqual([
      'Total duration (weibull), adjusted',
      'Total duration (log-normal), adjusted',
      'Total duration (log-logistic), adjusted',
      'Total duration (exponential), adjusted',
    ]);
  });

  it('refers, item by item, to sections that are there, and leaves the rest to the authors', () => {
    const [table] = sectionOf(report, 'reporting-items').blocks.filter(block => block.kind === 'table');
    if (table?.kind !== 'table') throw new Error('no table');
    const keys = new Set(report.sections.map(({ key }) => key));
    const cells = table.rows.map(row => row[2]?.text ?? '');
    const targets = cells.flatMap(text =>
      typeof text === 'string'
        ? []
        : text.flatMap(part =>
            typeof part === 'string' || part.kind !== 'reference' ? [] : [part.target.key],
          ),
    );
    expect(targets.filter(key => !keys.has(key))).toEqual([]);
    expect(table.rows.filter(row => plain(row[0]?.text ?? '').startsWith('STROBE'))).toHaveLength(22);
    expect(cells.filter(text => text === 'For the authors to add')).toHaveLength(3);
  });

  it('is published with every figure drawn and nothing undefined in it', async () => {
    const files = await reportFiles(report, input);
    const page = files.find(({ path }) => path === 'index.html');
    const html = page !== undefined && 'text' in page ? page.text : '';
    expect(html.length).toBeGreaterThan(100_000);
    expect(html.replace(/<script[^]*?<\/script>/g, '')).not.toMatch(/NaN|Infinity|undefined/);
  });
});

describe('a study without an answer', () => {
  it('says so in plain words where no model could be fitted', () => {
    const bare = durationReport({
      ...input,
      findings: input.findings.map(({ effects: _effects, plots: _plots, ...finding }) => ({
        ...finding,
        curves: [],
      })),
    });
    expect(figuresOf(bare)).toEqual([]);
    expect(linesOf(sectionOf(bare, 'severity-and-duration'))).toContain(
      'No forest is drawn, since no adjusted model could be fitted.',
    );
    expect(linesOf(sectionOf(bare, 'duration-model-checks'))).toContain(
      'No plot is drawn, since no model could be fitted.',
    );
  });

  it('names the state of a panel in which nothing was estimated', () => {
    const stuck = durationReport({
      ...input,
      findings: input.findings.map(finding => ({
        ...finding,
        effects: (finding.effects ?? []).map(
          ({ estimate: _estimate, lower: _lower, upper: _upper, ...effect }) => ({
            ...effect,
            state: 'did not converge',
          }),
        ),
      })),
    });
    const lines = linesOf(sectionOf(stuck, 'severity-and-duration'));
    expect(
      lines.filter(line => line.endsWith('nothing could be estimated (did not converge).')),
    ).toHaveLength(2);
  });

  it('needs no finding at all', () => {
    const empty = durationReport({ ...input, findings: [] });
    expect(blocksOf(empty).filter(({ kind }) => kind === 'figure')).toEqual([]);
    expect(sectionOf(empty, 'in-brief').blocks).toHaveLength(1);
  });
});
