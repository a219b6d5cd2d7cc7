import { createReadStream } from 'node:fs';
import { headerOf, rowOf } from '../fhir/profile.ts';
import { notJson, unreadableRest } from '../problems/files.ts';
import { LONGEST_ROW } from '../reading/csv-options.ts';
import type { TableName } from '../records.ts';
import { linesOf } from './lines.ts';
import type { RowSink } from './source-rows.ts';

/** The rows of a table in a file of FHIR resources, one a line (NDJSON), in the layout of the dictionary. */
export async function fhirRows(path: string, label: string, table: TableName, sink: RowSink): Promise<void> {
  sink.header({ cells: headerOf(table), line: 0, lastLine: 0 });
  let parts: Uint8Array[] = [];
  let size = 0;
  let current = 1;
  const close = (): void => {
    const text = Buffer.concat(parts)
      .toString('utf8')
      .replace(/^\uFEFF/, '')
      .trim();
    if (text !== '') give(text, current);
    parts = [];
    size = 0;
  };
  const give = (text: string, line: number): void => {
    const resource = parsed(text);
    const row = { line, lastLine: line };
    if (typeof resource !== 'object' || resource === null || Array.isArray(resource)) {
      sink.badRow({ ...row, cells: [] }, notJson(label, line));
      return;
    }
    const cells = rowOf(table, resource);
    if (cells === undefined) sink.other({ ...row, cells: [] });
    else sink.row({ ...row, cells });
  };
  const source = createReadStream(path);
  try {
    for await (const { line, bytes } of linesOf(source)) {
      if (line !== current) {
        close();
        current = line;
      }
      size += bytes.length;
      if (size > LONGEST_ROW) {
        sink.broken(current, unreadableRest(label, current, 'length'));
        return;
      }
      parts.push(bytes);
    }
    close();
  } finally {
    source.destroy();
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
