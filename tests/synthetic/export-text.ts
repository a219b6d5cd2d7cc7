import type { ExportTexts } from '../../src/records/reading/read-text.ts';
import { TABLE_NAMES, type TableName } from '../../src/records/records.ts';
import { exportDescription } from '../../src/synthetic/export-description.ts';
import { generateLines } from '../../src/synthetic/generate.ts';
import type { Scenario } from '../../src/synthetic/scenario.ts';
import { COLUMNS, emptyLines, type TableLines } from '../../src/synthetic/tables.ts';

/** All lines of an invented export. */
export function allLines(scenario: Scenario, feet: number, seed: number): TableLines {
  const all = emptyLines();
  generateLines(scenario, feet, seed, lines => {
    for (const table of TABLE_NAMES) all[table].push(...lines[table]);
  });
  return all;
}

/** The export as texts by table, as the reader takes them. */
export function exportTexts(scenario: Scenario, lines: TableLines): ExportTexts {
  const text = (table: TableName) => `${[COLUMNS[table].join(','), ...lines[table]].join('\n')}\n`;
  return {
    description: exportDescription(scenario),
    episodes: text('episodes'),
    assessments: text('assessments'),
    phases: text('phases'),
    wear: text('wear'),
    events: text('events'),
  };
}

/** Lines as objects by column name. */
export function objects(lines: TableLines, table: TableName): Record<string, string>[] {
  return lines[table].map(line => {
    const cells = line.split(',');
    return Object.fromEntries(COLUMNS[table].map((column, i) => [column, cells[i] ?? '']));
  });
}
