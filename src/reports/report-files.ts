import { canonicalJson } from './canonical-json.ts';
import { csvText } from './csv.ts';
import { figuresOf, type ReportDocument } from './document.ts';
import { type DrawnFigures, drawFigures } from './drawn-figures.ts';
import { curvesCsv, findingTableCsv, measuresCsv, riskTablesCsv } from './finding-csv.ts';
import { type FindingsInput, findingsJson } from './findings-document.ts';
import { renderHtml } from './html/render-html.ts';
import { flowLines } from './parts/flow-section.ts';

/** A file of a published report: its path with `/`, and its text. */
export interface ReportFile {
  readonly path: string;
  readonly text: string;
}

/**
 * Every file of a published report, by path in code-point order: the page, the findings, the tables as CSV, the figures
 * as SVG and as Vega-Lite specifications. The same input gives the same bytes.
 */
export async function reportFiles(
  document: ReportDocument,
  input: FindingsInput,
): Promise<readonly ReportFile[]> {
  const drawn = await drawFigures(document);
  const files: readonly ReportFile[] = [
    { path: 'index.html', text: renderHtml(document, drawn) },
    { path: 'findings.json', text: findingsJson(input) },
    ...tableFiles(input),
    ...figureFiles(document, drawn),
  ];
  return [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
}

function tableFiles({ findings, flow, provenance }: FindingsInput): readonly ReportFile[] {
  const lines = flowLines(flow).map(line => [line.key, line.label, line.depth, line.feet, line.infants]);
  const problems = provenance.problems.map(({ file, kind, severity, count }) => [
    file,
    kind,
    severity,
    count,
  ]);
  return [
    {
      path: 'tables/participants.csv',
      text: csvText(['key', 'step', 'depth', 'feet', 'infants'], lines),
    },
    {
      path: 'tables/data-problems.csv',
      text: csvText(['file', 'problem', 'row', 'count'], problems),
    },
    ...findings.flatMap(finding => [
      ...finding.tables.map(table => ({
        path: `tables/${fileName(finding.key === table.key ? table.key : `${finding.key}.${table.key}`)}.csv`,
        text: findingTableCsv(table),
      })),
      ...(finding.measures.length > 0
        ? [{ path: `tables/${fileName(finding.key)}.measures.csv`, text: measuresCsv(finding) }]
        : []),
      ...(finding.curves.length > 0
        ? [
            { path: `tables/${fileName(finding.key)}.curves.csv`, text: curvesCsv(finding.curves) },
            { path: `tables/${fileName(finding.key)}.risk-tables.csv`, text: riskTablesCsv(finding.curves) },
          ]
        : []),
    ]),
  ];
}

function figureFiles(document: ReportDocument, drawn: DrawnFigures): readonly ReportFile[] {
  return figuresOf(document).flatMap(figure => [
    { path: `figures/${fileName(figure.key)}.svg`, text: `${drawn.get(figure.key)?.page ?? ''}\n` },
    { path: `figures/${fileName(figure.key)}.vl.json`, text: canonicalJson(figure.specs.page) },
  ]);
}

function fileName(key: string): string {
  return key.replace(/[^A-Za-z0-9.-]+/g, '-');
}
