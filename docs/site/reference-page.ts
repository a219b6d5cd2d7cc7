import { readdirSync, readFileSync } from 'node:fs';
import type { Described } from './docstrings.ts';
import { docstringsOf } from './docstrings.ts';
import { EXAMPLE_DATA } from './example-data.ts';
import { PART_LEADS } from './part-leads.ts';

/**
 * The reference of the functions offered, as Markdown, by the folder they are declared in.
 *
 * @param declarations folder with the declaration files of one part of the package
 * @param offered names that the entry exports
 */
export function referencePage(
  title: string,
  lead: string,
  declarations: string,
  offered: ReadonlySet<string>,
  withData: boolean,
): string {
  const parts = new Map<string, Described[]>();
  for (const path of readdirSync(declarations, { recursive: true, encoding: 'utf8' }).sort()) {
    if (!path.endsWith('.d.ts')) continue;
    const found = docstringsOf(readFileSync(`${declarations}/${path}`, 'utf8')).filter(
      ({ name, text, examples }) => offered.has(name) && (text !== '' || examples.length > 0),
    );
    if (found.length === 0) continue;
    const part = path.includes('/') ? path.slice(0, path.lastIndexOf('/')) : 'general';
    parts.set(part, [...(parts.get(part) ?? []), ...found]);
  }
  const data = withData
    ? `The examples are run with every change. Those that use \`time\`, \`curve\` and the like rest on these lines:\n\n\`\`\`js\n${EXAMPLE_DATA}\n\`\`\`\n`
    : '';
  const sections = [...parts].map(
    ([part, functions]) =>
      `## ${headingOf(part)}\n\n${leadOf(part, withData)}${functions.map(functionText).join('\n')}`,
  );
  return `# ${title}\n\n${lead}\n\n${data}\n${sections.join('\n')}`;
}

function leadOf(part: string, ofStatistics: boolean): string {
  const lead = ofStatistics ? PART_LEADS[part] : undefined;
  return lead === undefined ? '' : `${lead}\n\n`;
}

function headingOf(part: string): string {
  return part.replaceAll('-', ' ').replaceAll('/', ', ');
}

function functionText({ name, signature, text, examples }: Described): string {
  const shown = examples.map(({ program, value }) => `\`\`\`js\n${program}\n// ${value}\n\`\`\`\n`);
  return `### ${name}\n\n\`\`\`ts\n${signature}\n\`\`\`\n\n${prose(text)}\n\n${shown.join('\n')}`;
}

/** Tags of a docstring as a list, the rest as it stands. */
function prose(text: string): string {
  return text
    .replaceAll(/^@param (\w+) */gm, '- `$1`: ')
    .replaceAll(/^@returns */gm, '- Gives ')
    .replaceAll(/^@throws */gm, '- Throws ')
    .replaceAll(/^(- (?:`|Gives|Throws))/gm, '\n$1')
    .replaceAll('<', '&lt;');
}
