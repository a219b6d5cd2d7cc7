/** One method in one setting. */
export interface StudyResult {
  readonly estimator: string;
  readonly setting: string;
  readonly measure: 'coverage' | 'size';
  readonly method: string;
  readonly feet: number;
  readonly dataSets: number;
  /** Data sets in which the method gave no interval or p-value. */
  readonly withoutAnswer: number;
  readonly share: number;
  readonly monteCarloError: number;
  readonly advice: string;
}

const percent = (share: number): string => (100 * share).toFixed(1);

/** How far from nominal counts as near enough to be used as it is: 2 points of a coverage, 1.5 of a size. */
const tolerated = { coverage: 0.02, size: 0.015 };

function verdict({ measure, share, monteCarloError }: StudyResult): string {
  const off = share - (measure === 'coverage' ? 0.95 : 0.05);
  if (Math.abs(off) <= 2 * monteCarloError) return 'as it should be';
  const tooBold = measure === 'coverage' ? off < 0 : off > 0;
  const slight = Math.abs(off) <= tolerated[measure] ? 'slightly ' : '';
  if (measure === 'coverage') return slight + (tooBold ? 'under-covers' : 'over-covers');
  return slight + (tooBold ? 'rejects too often' : 'rejects too seldom');
}

/** The report as Markdown. */
export function report(results: readonly StudyResult[], usualDataSets: number): string {
  const sizes = [...new Set(results.map(result => result.feet))];
  const estimators = [...new Set(results.map(result => result.estimator))];
  const lines = [
    '# Do the intervals cover, and do the tests keep their size?',
    '',
    'Made by `npm run validity`, which writes this page and `validity.json` again byte for byte. Every line rests on',
    `${usualDataSets.toLocaleString('en-US')} simulated cohorts unless it says otherwise. A cohort has 40 or 300 feet;`,
    'half of the infants have two feet, and the two feet of an infant resemble each other (correlation 0.6 on the',
    'normal scale of the outcome; a gamma frailty for counts). Treatment arms, where there are any, are arms of infants. The truth is known exactly.',
    '',
    'Coverage is the share of 95 % intervals that hold the truth: it should be 95.0. Size is the share of tests with',
    'p < 0.05 (at most 0.05 for a permutation test) where there is no difference: it should be 5.0. Behind each figure',
    'stands its Monte-Carlo standard error.',
    'The verdict is "as it should be" within two such errors, and "slightly" off within 2 points of coverage or 1.5',
    'points of size. A share is of the cohorts in which the method gave an answer; the last column counts the others.',
    '',
    '## What to take from it',
    '',
    ...lessons(results),
    '',
  ];
  for (const estimator of estimators) {
    const rows = results.filter(result => result.estimator === estimator);
    const [first] = rows;
    if (first === undefined) continue;
    lines.push(
      `## ${estimator[0]?.toUpperCase()}${estimator.slice(1)}`,
      '',
      `${first.setting[0]?.toUpperCase()}${first.setting.slice(1)}.${
        first.dataSets === usualDataSets ? '' : ` ${first.dataSets.toLocaleString('en-US')} cohorts.`
      }`,
      '',
      `| method | feet | ${first.measure}, % | error | verdict | no answer |`,
      '|---|---|---|---|---|---|',
    );
    for (const method of new Set(rows.map(row => row.method))) {
      for (const feet of sizes) {
        const row = rows.find(r => r.method === method && r.feet === feet);
        if (row === undefined) continue;
        lines.push(
          `| ${method} | ${feet} | ${percent(row.share)} | ${percent(row.monteCarloError)} | ${verdict(row)} | ${row.withoutAnswer} |`,
        );
      }
    }
    lines.push('');
  }
  return lines.join('\n');
}

/** One sentence for each estimator whose plain form falls short. */
function lessons(results: readonly StudyResult[]): string[] {
  const bold = results.filter(result => /^(under-covers|rejects too often)$/.test(verdict(result)));
  const estimators = [...new Set(bold.map(result => result.estimator))];
  const short = estimators.map(estimator => {
    const rows = bold.filter(result => result.estimator === estimator);
    const methods = [...new Set(rows.map(row => row.method))].map(
      method =>
        `${method} (${rows
          .filter(row => row.method === method)
          .map(row => `${percent(row.share)} % at ${row.feet} feet`)
          .join(', ')})`,
    );
    const what = rows[0]?.measure === 'size' ? 'rejects too often' : 'under-covers';
    return `- **${estimator}** ${what} with ${methods.join('; ')}. Instead: ${rows[0]?.advice}.`;
  });
  const silent = results.filter(({ withoutAnswer, dataSets }) => withoutAnswer > 0.05 * dataSets);
  return [
    ...short,
    ...silent.map(
      ({ estimator, method, feet, withoutAnswer, dataSets }) =>
        `- **${estimator}**: ${method}, gave no answer in ${withoutAnswer} of ${dataSets} cohorts of ${feet} feet; the result says why.`,
    ),
  ];
}
