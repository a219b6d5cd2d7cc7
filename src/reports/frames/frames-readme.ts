import type { FrameDescription } from '../../cohort/frame-column.ts';
import { FRAME_DICTIONARY } from '../../cohort/frame-dictionary.ts';
import { isoDate } from '../../records/calendar-date.ts';
import type { Provenance } from '../provenance.ts';

/** Where the frames come from and what every column holds, in Markdown. */
export function framesReadme(frames: readonly NamedFrame[], provenance: Provenance): string {
  const { software, version, service, cutOff, planSha256 } = provenance;
  return `# Analysis frames

${service === undefined ? '' : `Service: ${service}. `}Data to ${isoDate(cutOff)}. Written by ${software} ${version} under the plan ${planSha256}.

These files hold one row a foot, step-down, visit, spell, day and event, with pseudonymous codes. They are for work within the service: do not publish them. The report and its \`findings.json\` hold no such rows.

Each frame stands here as an Arrow IPC file (\`.arrow\`), as Parquet (\`.parquet\`) and as CSV, all three with the same rows. \`day\` is days since the first fitting of the foot, which is day 0. A missing value is null, in CSV an empty cell; yes/no is true or false.

${frames.map(frame => frameText(frame)).join('\n')}`;
}

/** A frame under the name of its files. */
export interface NamedFrame extends FrameDescription {
  readonly file: string;
  readonly rows: number;
}

/** The columns of all frames as a page in Markdown, without any data. */
export function frameDictionaryText(): string {
  const frames = Object.entries(FRAME_DICTIONARY).map(
    ([key, { row, columns }]) => `## ${fileName(key)}\n\n${row}\n\n${columnTable(columns)}`,
  );
  return `# The analysis frames

\`forefoot frames\` writes one table for each, by the definitions of the plan. A row joins to its foot by \`episode_id\`; \`day\` is days since the first fitting of the foot.

Each table stands in the folder three times, with the same rows: as Arrow (\`feet.arrow\`), as Parquet (\`feet.parquet\`) and as CSV (\`feet.csv\`). Types in the files:

| type | Arrow | Parquet | CSV |
| --- | --- | --- | --- |
| text | Utf8 | BYTE_ARRAY, UTF8 | as it stands, quoted where needed |
| integer | Int32 | INT32 | 14 |
| number | Float64 | DOUBLE | 2.5 |
| yes/no | Bool | BOOLEAN | true or false |
| date | Date32 (days) | INT32, DATE | 2025-03-09 |
| missing | null | null | an empty cell |

An ordered category, such as the severity band, is its word: put *straight, mild, moderate, severe* into order where you draw it.

${frames.join('\n')}`;
}

/** `stepDowns` as `step-downs`. */
export function fileName(key: string): string {
  return key.replaceAll(/[A-Z]/g, letter => `-${letter.toLowerCase()}`);
}

function frameText({ file, row, rows, columns }: NamedFrame): string {
  return `## ${file}\n\n${row} Here: ${rows}.\n\n${columnTable(columns)}`;
}

function columnTable(columns: FrameDescription['columns']): string {
  const lines = columns.map(
    ({ name, type, unit = '', meaning }) => `| ${name} | ${type} | ${unit} | ${meaning} |`,
  );
  return `| column | type | unit | meaning |\n| --- | --- | --- | --- |\n${lines.join('\n')}\n`;
}
