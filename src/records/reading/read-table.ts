import type { Interner } from '../coded-column.ts';
import { interner } from '../coded-column.ts';
import type { Field, Table } from '../dictionary/field.ts';
import { missingValue, notOfType, afterCutOff, outOfRange } from '../problems/cells.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { emptyFile, unreadableRest, wrongNumberOfCells } from '../problems/files.ts';
import type { Problem } from '../records.ts';
import { growingColumn } from './growing.ts';
import { readHeader } from './header.ts';
import { MISSING, NOT_OF_TYPE, OUT_OF_RANGE, valueReader } from './values.ts';

/** A table as read, row i of the file being row i of every column; a refused row keeps its place. */
export interface ReadTable {
  readonly table: Table;
  readonly rows: number;
  /** First line of each row. */
  readonly lines: Int32Array;
  /** 1 where the row is refused. */
  readonly refused: Uint8Array;
  /** Values as values.ts reads them. */
  readonly columns: ReadonlyMap<string, Int32Array | Float64Array>;
  /** The texts of the code columns. */
  readonly codes: ReadonlyMap<string, readonly string[]>;
  readonly extraColumns: readonly string[];
  /** First and last line of the header, if there is one. */
  readonly headerLines: readonly [number, number] | undefined;
  /** Last line of the rows that take more than one. */
  readonly lastLines: ReadonlyMap<number, number>;
}

/** Takes in the rows of one file, header first, and checks each by itself. */
export interface TableReader {
  /** The next row as text cells; rows without any text are passed over. */
  row(cells: readonly string[]): void;
  /** Whatever follows cannot be read; it counts as one refused row. */
  broken(why: 'quote' | 'length' | Problem): void;
  /** All rows were given. */
  end(): ReadTable;
  readonly rowsSoFar: number;
}

export interface ReadingContext {
  readonly problems: ProblemCollector;
  /** The codes of episodes, shared by all tables. */
  readonly episodeCodes: Interner;
  /** The data cut-off, if one was given. */
  readonly cutOff: number | undefined;
}

const LAST_LINE = 2_147_483_647;

export function tableReader(table: Table, context: ReadingContext): TableReader {
  const { problems, cutOff = Number.POSITIVE_INFINITY } = context;
  const { file, fields } = table;
  const codes = new Map<string, Interner>();
  for (const field of fields) {
    if (field.type === 'code') {
      codes.set(field.name, field.name === 'episode_id' ? context.episodeCodes : interner());
    }
  }
  const read = fields.map(field => valueReader(field, codes.get(field.name) ?? context.episodeCodes));
  const columns = fields.map(field =>
    growingColumn(field.type === 'integer' || field.type === 'number' ? 'decimal' : 'whole'),
  );
  const lines = growingColumn('whole');
  const refused = growingColumn('whole');
  const lastLines = new Map<number, number>();
  let header: ReturnType<typeof readHeader> | undefined;
  let headerLines: readonly [number, number] | undefined;
  let line = 1;
  let rows = 0;

  const refuse = (at: number): void => {
    lines.push(at);
    refused.push(1);
    for (const column of columns) column.push(MISSING);
    rows++;
  };
  const cellProblem = (field: Field, at: number, text: string, value: number): Problem | undefined => {
    if (value === MISSING) return field.required ? missingValue(file, at, field) : undefined;
    if (value === NOT_OF_TYPE) return notOfType(file, at, field, text);
    if (value === OUT_OF_RANGE) return outOfRange(file, at, field, text);
    if (field.type === 'date' && value > cutOff) return afterCutOff(file, at, field, value, cutOff);
    return undefined;
  };
  const accept = (cells: readonly string[], at: number, places: Int32Array): void => {
    let faults = 0;
    for (let k = 0; k < fields.length; k++) {
      const field = fields[k] as Field;
      const text = (cells[places[k] as number] ?? '').trim();
      const value = text === '' ? MISSING : (read[k]?.(text) ?? MISSING);
      columns[k]?.push(value);
      if (value <= OUT_OF_RANGE || (field.type === 'date' && value > cutOff)) {
        const fault = cellProblem(field, at, text, value);
        if (fault !== undefined) {
          problems.add(fault);
          faults++;
        }
      }
    }
    lines.push(at);
    refused.push(faults === 0 ? 0 : 1);
    rows++;
  };

  return {
    row(cells) {
      const at = line;
      const breaks = lineBreaks(cells);
      line += 1 + breaks;
      if (cells.every(cell => cell.trim() === '')) return;
      if (header === undefined) {
        header = readHeader(table, cells, problems);
        headerLines = [at, at + breaks];
        return;
      }
      if (breaks > 0) lastLines.set(at, at + breaks);
      if (header.places === undefined) refuse(at);
      else if (cells.length !== header.width) {
        problems.add(wrongNumberOfCells(file, at, cells.length, header.width));
        refuse(at);
      } else accept(cells, at, header.places);
    },
    broken(why) {
      problems.add(typeof why === 'string' ? unreadableRest(file, line, why) : why);
      header ??= { places: undefined, width: 0, extraColumns: [] };
      lastLines.set(line, LAST_LINE);
      refuse(line);
    },
    end() {
      if (header === undefined)
        problems.add(emptyFile(file, table.name === 'episodes' ? 'refused' : 'warning'));
      return {
        table,
        rows,
        lines: new Int32Array(lines.values()),
        refused: new Uint8Array(refused.values()),
        columns: new Map(fields.map((field, k) => [field.name, columns[k]?.values() ?? new Int32Array(0)])),
        codes: new Map([...codes].map(([name, known]) => [name, known.labels])),
        extraColumns: header?.extraColumns ?? [],
        headerLines,
        lastLines,
      };
    },
    get rowsSoFar() {
      return rows;
    },
  };
}

/** Line breaks within the cells of one row. */
function lineBreaks(cells: readonly string[]): number {
  let breaks = 0;
  for (const cell of cells) {
    if (cell.includes('\n') || cell.includes('\r')) breaks += cell.match(/\r\n|\n|\r/g)?.length ?? 0;
  }
  return breaks;
}
