import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';

/** From the first look to a question of one's own; notebooks that a reader adds come after these. */
const ORDER = [
  'first-look',
  'time-to-correction',
  'relapse-after-step-downs',
  'adherence',
  'severity-and-duration',
  'audit-charts',
  'interval-censoring',
  'published-examples',
  'your-own-question',
];

/** The file names of notebooks as they are best read. */
export function inReadingOrder(names: readonly string[]): string[] {
  const place = (name: string): number => {
    const at = ORDER.indexOf(basename(name, '.html'));
    return at < 0 ? ORDER.length : at;
  };
  return [...names].sort().sort((a, b) => place(a) - place(b));
}

/** The list of notebooks as a page: title and first sentence of each, in the order given. */
export async function indexPage(files: readonly string[]): Promise<string> {
  const items = await Promise.all(
    files.map(async file => {
      const text = await readFile(file, 'utf8');
      const title = /<title>([^<]*)<\/title>/.exec(text)?.[1] ?? basename(file);
      const lead = /^\s*# [^\n]*\n+\s*([^\n]+)/m.exec(text)?.[1] ?? '';
      return `<li><a href="${basename(file)}">${title}</a><br>${marked(lead)}</li>`;
    }),
  );
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>Notebooks</title>
<style>body{font:17px/1.5 "Source Serif 4",Georgia,serif;max-width:42em;margin:3em auto;padding:0 1em;color:#222}li{margin:.8em 0}code{font-size:.9em}</style>
<main>
<h1>Notebooks</h1>
<p>These pages hold rows of the export they were built from. Keep them within the service.</p>
<ol>
${items.join('\n')}
</ol>
</main>
</html>
`;
}

/** The marks that a first sentence may have. */
function marked(text: string): string {
  return text.replaceAll(/`([^`]+)`/g, '<code>$1</code>').replaceAll(/\*([^*]+)\*/g, '<em>$1</em>');
}
