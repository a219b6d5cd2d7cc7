import { allowedIn } from '../dictionary.ts';
import type { TableName } from '../records.ts';
import type { Field, Table } from './field.ts';

const HEADINGS = ['field', 'type', 'unit', 'needed', 'allowed', 'meaning'] as const;

/** The dictionary as text in Markdown: a section for each file, in it a table with a line for each field. */
export function dictionaryText(dictionary: Readonly<Record<TableName, Table>>): string {
  const sections = Object.values(dictionary).map(table =>
    [
      `## ${table.file}`,
      `${table.row} No two rows have the same ${listed(table.key)}.`,
      markdownTable([HEADINGS, ...table.fields.map(field => fieldLine(table, field))]),
    ].join('\n\n'),
  );
  return `# The files of an export\n\nFields that tell a row from all others are **bold**. A blank is a missing value. Other columns are kept out.\n\n${sections.join('\n\n')}\n`;
}

function fieldLine(table: Table, field: Field): readonly string[] {
  const needed = field.required ? 'yes' : field.neededWhen === undefined ? 'no' : `when ${field.neededWhen}`;
  const name = table.key.includes(field.name) ? `**${field.name}**` : field.name;
  return [name, field.type, field.unit ?? '', needed, allowedIn(field), field.meaning];
}

function listed(names: readonly string[]): string {
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** Columns as wide as their widest cell, so that the text reads well as it stands. */
function markdownTable(rows: readonly (readonly string[])[]): string {
  const widths = HEADINGS.map((_, k) => Math.max(3, ...rows.map(row => row[k]?.length ?? 0)));
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell, k) => cell.padEnd(widths[k] ?? 0)).join(' | ')} |`;
  const [head = [], ...body] = rows;
  return [line(head), `| ${widths.map(width => '-'.repeat(width)).join(' | ')} |`, ...body.map(line)].join(
    '\n',
  );
}
