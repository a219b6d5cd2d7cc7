import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';

/** The list of notebooks as a page: title and first sentence of each. */
export async function indexPage(files: readonly string[]): Promise<string> {
  const items = await Promise.all(
    files.map(async file => {
      const text = await readFile(file, 'utf8');
      const title = /<title>([^<]*)<\/title>/.exec(text)?.[1] ?? basename(file);
      const lead = /^\s*# [^\n]*\n+\s*([^\n]+)/m.exec(text)?.[1] ?? '';
      return `<li><a href="${basename(file)}">${title}</a><br>${lead}</li>`;
    }),
  );
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>Notebooks</title>
<style>body{font:17px/1.5 "Source Serif 4",Georgia,serif;max-width:42em;margin:3em auto;padding:0 1em;color:#222}li{margin:.8em 0}</style>
<h1>Notebooks</h1>
<p>These pages hold rows of the export they were built from. Keep them within the service.</p>
<ol>
${items.join('\n')}
</ol>
</html>
`;
}
