import { fileURLToPath } from 'node:url';
import { parseHTML } from 'linkedom';
import { beforeAll, describe, expect, it } from 'vitest';
import { outcomesOf } from '../../src/cli/outcomes.ts';
import { type Analysis, analyseDuration, analyseExport, baseline } from '../../src/analyses/index.ts';
import type { Cohort } from '../../src/cohort/index.ts';
import type { Plan } from '../../src/plan/plan.ts';
import type { ExportRecords } from '../../src/records/records.ts';
import { cohortReport } from '../../src/reports/cohort/cohort-report.ts';
import type { ReportDocument } from '../../src/reports/document.ts';
import { durationReport } from '../../src/reports/duration/duration-report.ts';
import type { FindingsDocument, FindingsInput } from '../../src/reports/findings-document.ts';
import { reportFiles } from '../../src/reports/report-files.ts';
import { allowedWords, dateWords, numberWords } from './printed-numbers.ts';

const SAMPLE = fileURLToPath(new URL('../../synthetic-data', import.meta.url));

type Page = ReturnType<typeof parseHTML>['document'];

interface Published {
  readonly html: string;
  readonly findings: FindingsDocument;
  /** Ticks of the axes, by the id of the figure. */
  readonly ticks: ReadonlyMap<string, readonly number[]>;
}

interface Kind {
  readonly analyse: (records: ExportRecords, plan: Plan, cohort: Cohort) => readonly Analysis[];
  readonly document: (input: FindingsInput) => ReportDocument;
}

const KINDS: readonly (readonly [string, Kind])[] = [
  ['cohort report', { analyse: analyseExport, document: cohortReport }],
  [
    'duration study',
    {
      analyse: (_records, plan, cohort) => [baseline(cohort, plan), ...analyseDuration(cohort, plan)],
      document: durationReport,
    },
  ],
];

const QUIET = { out: () => {}, log: () => {}, terminal: false, setExitCode: () => {} };

async function publish({ analyse, document }: Kind): Promise<Published> {
  const input = await outcomesOf(SAMPLE, {}, QUIET, analyse);
  const files = await reportFiles(document(input), input);
  const text = (path: string): string => {
    const file = files.find(candidate => candidate.path === path);
    if (file === undefined || !('text' in file)) throw new Error(`the report has no text ${path}`);
    return file.text;
  };
  const specs = files.map(({ path }) => path).filter(path => path.endsWith('.vl.json'));
  return {
    html: text('index.html'),
    findings: JSON.parse(text('findings.json')) as FindingsDocument,
    ticks: new Map(
      specs.map(path => [
        `figure-${path.replace(/^figures\/|\.vl\.json$/g, '').replace(/[^A-Za-z0-9]+/g, '-')}`,
        axisValues(JSON.parse(text(path))),
      ]),
    ),
  };
}

/** Every list of ticks in a specification. */
function axisValues(part: unknown): readonly number[] {
  if (typeof part !== 'object' || part === null) return [];
  return Object.entries(part).flatMap(([key, value]: [string, unknown]) =>
    key === 'axis' && typeof value === 'object' && value !== null && 'values' in value
      ? (value.values as readonly number[])
      : axisValues(value),
  );
}

/** The words of the page that the findings do not allow, each after the place where it stands. */
function strangers({ html, findings, ticks }: Published): readonly string[] {
  const page = parseHTML(html).document;
  for (const element of page.querySelectorAll('head, script, nav, sup, #references')) element.remove();
  for (const element of page.querySelectorAll('figcaption strong')) element.remove();
  const { provenance, plan } = findings;
  const common = union([
    allowedWords(plan),
    allowedWords(provenance),
    new Set(dateWords(provenance.cutOff)),
    allowedWords([
      ...(['read', 'accepted', 'refused'] as const).map(field =>
        provenance.files.reduce((sum, file) => sum + Number(file[field]), 0),
      ),
      provenance.problems.reduce((sum, problem) => sum + Number(problem.count), 0),
    ]),
    // The name of the method by which files and plan are hashed.
    new Set(numberWords('SHA-256')),
  ]);
  const everything = union([
    common,
    allowedWords(findings.flow),
    ...findings.findings.map(finding => allowedWords(finding)),
  ]);
  const own = new Map(
    findings.findings.map(finding => [
      `section-${finding.key.replace(/[^A-Za-z0-9]+/g, '-')}`,
      union([common, allowedWords(finding)]),
    ]),
  );
  return textsOf(page).flatMap(({ text, section, figure }) => {
    const allowed = own.get(section ?? '') ?? everything;
    const scale = new Set((ticks.get(figure ?? '') ?? []).flatMap(tick => [...allowedWords(tick)]));
    return numberWords(text)
      .filter(word => !allowed.has(word) && !scale.has(word))
      .map(word => `${section ?? 'page'}: ${word} in "${text.trim().slice(0, 80)}"`);
  });
}

interface PlacedText {
  readonly text: string;
  readonly section: string | undefined;
  readonly figure: string | undefined;
}

/** Every stretch of text of the page with the section and the figure it stands in. */
function textsOf(page: Page): readonly PlacedText[] {
  const leaves = [
    ...page.querySelectorAll(
      'h1, h2, h3, h4, p, li, dt, dd, th, td, figcaption, summary, .caption, svg text, svg tspan, svg title, svg desc',
    ),
  ].filter(element => element.querySelector('p, li, td, th, tspan') === null);
  return leaves.map(element => ({
    text: (element.textContent ?? '').replace(/^(?:Table|Figure|Values behind figure) \d+\.? ?/, ''),
    section: element.closest('main > section')?.id,
    figure: element.closest('figure')?.id,
  }));
}

function union(sets: readonly ReadonlySet<string>[]): ReadonlySet<string> {
  return new Set(sets.flatMap(set => [...set]));
}

describe.each(KINDS)('the numbers of the %s', (_, kind) => {
  let published: Published;

  beforeAll(async () => {
    published = await publish(kind);
  }, 120_000);

  it('are all in the findings, each section in its own', () => {
    expect(strangers(published)).toEqual([]);
  });

  it('are looked for everywhere: no text of the page is passed over', () => {
    const page = parseHTML(published.html).document;
    for (const element of page.querySelectorAll('head, script, nav')) element.remove();
    const letters = (text: string): number => text.replace(/\s/g, '').length;
    const seen = textsOf(page).reduce((sum, { text }) => sum + letters(text), 0);
    // What is taken off is the numbers of tables and figures.
    expect(seen / letters(page.body?.textContent ?? '')).toBeGreaterThan(0.98);
  });

  it.each([
    ['a sentence', /<p class="statement">/, '<p class="statement">4813 '],
    ['a cell of a table', /<td class="number">\d+<\/td>/, '<td class="number">98765</td>'],
    ['a value behind a figure', /<td>[\d.]+ \(/, '<td>98.76 ('],
    ['a drawing', />At risk<\/text>/, '>At risk 4813</text>'],
    ['a text alternative', /<desc id="[^"]*">/, '$&4813 '],
  ])('would show a stranger in %s', (_place, pattern, replacement) => {
    expect(published.html).toMatch(pattern);
    const html = published.html.replace(pattern, replacement);
    expect(strangers({ ...published, html })).toHaveLength(1);
  });
});

describe('a number on a page', () => {
  it('is read whole, with its thousands, its sign and its decimals', () => {
    expect(numberWords('12\u202F345 feet, \u22120.5 weeks (P < .001), 33/318 (10\u202F%), week 6.')).toEqual([
      '12345',
      '\u22120.5',
      '.001',
      '33',
      '318',
      '10',
      '6',
    ]);
  });
});
