import { type CsvValue, csvText } from '../../src/reports/csv.ts';
import { canonicalJson, drawFigures, renderHtml } from '../../src/reports/index.ts';
import { type PublishedFile, publishFolder } from '../../src/reports/publish/index.ts';
import { recoveryReport } from './report.ts';
import type { StudyResult } from './study.ts';
import { verdictOf } from './verdict.ts';

/** Publishes a study as a folder: the page, its numbers as JSON and CSV, and its figures. */
export async function publishStudy(folder: string, study: StudyResult): Promise<string> {
  const document = recoveryReport(study);
  const drawn = await drawFigures(document);
  const figures = [...drawn].map(
    ([key, { page }]): PublishedFile => ({ path: `figures/${key}.svg`, text: `${page}\n` }),
  );
  return publishFolder(
    folder,
    [
      { path: 'index.html', text: renderHtml(document, drawn) },
      { path: 'findings.json', text: canonicalJson(study) },
      { path: 'tables/estimates.csv', text: estimatesCsv(study) },
      { path: 'tables/tests.csv', text: testsCsv(study) },
      { path: 'tables/audit.csv', text: auditCsv(study) },
      ...figures,
    ],
    { replace: true },
  );
}

function estimatesCsv({ scenarios }: StudyResult): string {
  const header = [
    'scenario',
    'topic',
    'method',
    'what',
    'unit',
    'target',
    'truth',
    'exports',
    'estimated',
    'mean',
    'bias',
    'bias_error',
    'root_mean_square_error',
    'intervals',
    'coverage',
    'coverage_error',
    'verdict',
  ];
  const rows = scenarios.flatMap(({ scenario, recoveries }) =>
    recoveries.map((r): readonly CsvValue[] => [
      scenario,
      r.topic,
      r.method,
      r.what,
      r.unit,
      r.target,
      r.truth,
      r.exports,
      r.estimated,
      r.mean,
      r.bias,
      r.biasError,
      r.rootMeanSquareError,
      r.intervals,
      r.coverage,
      r.coverageError,
      verdictOf(r),
    ]),
  );
  return csvText(header, rows);
}

function testsCsv({ scenarios }: StudyResult): string {
  return csvText(
    ['scenario', 'test', 'exports', 'tested', 'rejected', 'rejected_error'],
    scenarios.flatMap(({ scenario, tests }) =>
      tests.map((test): readonly CsvValue[] => [
        scenario,
        test.key,
        test.exports,
        test.tested,
        test.rejected,
        test.rejectedError,
      ]),
    ),
  );
}

function auditCsv({ scenarios }: StudyResult): string {
  return csvText(
    ['scenario', 'kind', 'measure', 'site', 'reading', 'planted', 'exports', 'share', 'share_error'],
    scenarios.flatMap(({ scenario, audit }) =>
      audit.map((r): readonly CsvValue[] => [
        scenario,
        r.kind,
        r.measure,
        r.site,
        r.reading,
        r.planted ? 'yes' : 'no',
        r.exports,
        r.share,
        r.shareError,
      ]),
    ),
  );
}
