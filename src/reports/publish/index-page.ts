import { sha256 } from '../../plan/sha256.ts';
import { escapeHtml } from '../html/escape.ts';
import { STYLE_SHEET } from '../html/style-sheet.ts';
import { latestEntries, type Ledger, type LedgerEntry } from './ledger.ts';

/** The list of all published reports as one page that opens from the disk and asks for nothing. */
export function indexPage(ledger: Ledger): string {
  const policy = `default-src 'none'; style-src 'sha256-${base64(sha256(STYLE_SHEET))}'; img-src data:; base-uri 'none'; form-action 'none'`;
  const rows = latestEntries(ledger).map(entry => rowHtml(entry, ledger));
  return [
    '<!DOCTYPE html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    '<title>Published reports</title>',
    '<link rel="icon" href="data:,">',
    `<style>${STYLE_SHEET}</style>`,
    '</head>',
    '<body>',
    '<header><h1>Published reports</h1></header>',
    '<main id="main">',
    '<p>Every report published into this folder. The hash is that of its page; ledger.json holds the hashes of all files, of the data and of the plan behind them.</p>',
    '<div class="table wide"><div class="table-scroll" role="region" aria-labelledby="reports-caption" tabindex="0">',
    '<table>',
    '<caption><span class="caption" id="reports-caption">Reports, each in its latest version</span></caption>',
    '<thead><tr><th scope="col">Report</th><th scope="col">Kind</th><th scope="col">Period</th><th scope="col">Data up to</th><th scope="col">SHA-256 of the page</th><th scope="col">Earlier versions</th></tr></thead>',
    `<tbody>\n${rows.join('\n')}\n</tbody>`,
    '</table>',
    '</div></div>',
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function rowHtml(entry: LedgerEntry, ledger: Ledger): string {
  const earlier = ledger.entries.filter(
    ({ report, version }) => report === entry.report && version < entry.version,
  );
  const links = earlier.map(
    ({ report, version }) =>
      `<a href="${escapeHtml(report)}/versions/${version}/index.html">version ${version}</a>`,
  );
  const changes =
    entry.version > 1 ? [`<a href="${escapeHtml(entry.report)}/changes.csv">numbers that changed</a>`] : [];
  const page = entry.outputs.find(({ path }) => path === 'index.html')?.sha256 ?? '';
  const cells = [
    escapeHtml(entry.kind),
    escapeHtml(entry.period ?? 'all'),
    escapeHtml(entry.cutOff),
    `<code>${page}</code>`,
    [...links, ...changes].join(', ') || 'none',
  ];
  return `<tr><th scope="row"><a href="${escapeHtml(entry.report)}/index.html">${escapeHtml(entry.title)}</a></th>${cells.map(cell => `<td class="wrap">${cell}</td>`).join('')}</tr>`;
}

function base64(hex: string): string {
  return Buffer.from(hex, 'hex').toString('base64');
}
