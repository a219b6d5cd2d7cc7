import type { Interner } from '../coded-column.ts';
import type { Field, Table } from '../dictionary/field.ts';
import { afterCutOff, missingValue, notOfType, outOfRange } from '../problems/cells.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import type { Problem } from '../records.ts';
import { growingColumn } from './growing.ts';
import { MISSING, NOT_OF_TYPE, OUT_OF_RANGE, valueReader } from './values.ts';

/** Reads the cells of one row after the other into the columns of a table, each cell by itself. */
export interface CellsReader {
  /** Reads a row whose field k stands at place `places[k]`, and gives the number of its faults. */
  read(cells: readonly string[], line: number, places: Int32Array): number;
  /** A row of blanks. */
  blank(): void;
  columns(): ReadonlyMap<string, Int32Array | Float64Array>;
  /** The places of a row that has its fields in the order of the table. */
  readonly inOrder: Int32Array;
}

export function cellsReader(
  table: Table,
  codes: ReadonlyMap<string, Interner>,
  problems: ProblemCollector,
  givenCutOff: number | undefined,
): CellsReader {
  const { file, fields } = table;
  const cutOff = givenCutOff ?? Number.POSITIVE_INFINITY;
  const noCodes: Interner = { labels: [], code: () => 0 };
  const readers = fields.map(field => valueReader(field, codes.get(field.name) ?? noCodes));
  const columns = fields.map(field =>
    growingColumn(field.type === 'integer' || field.type === 'number' ? 'decimal' : 'whole'),
  );

  const fault = (field: Field, line: number, text: string, value: number): Problem | undefined => {
    if (value === MISSING) return field.required ? missingValue(file, line, field) : undefined;
    if (value === NOT_OF_TYPE) return notOfType(file, line, field, text);
    if (value === OUT_OF_RANGE) return outOfRange(file, line, field, text);
    if (field.type === 'date' && value > cutOff) return afterCutOff(file, line, field, value, cutOff);
    return undefined;
  };

  return {
    read(cells, line, places) {
      let faults = 0;
      for (let k = 0; k < fields.length; k++) {
        const field = fields[k] as Field;
        const text = (cells[places[k] as number] ?? '').trim();
        const value = text === '' ? MISSING : (readers[k]?.(text) ?? MISSING);
        columns[k]?.push(value);
        if (value <= OUT_OF_RANGE || (field.type === 'date' && value > cutOff)) {
          const found = fault(field, line, text, value);
          if (found !== undefined) {
            problems.add(found);
            faults++;
          }
        }
      }
      return faults;
    },
    blank() {
      for (const column of columns) column.push(MISSING);
    },
    columns: () => new Map(fields.map((field, k) => [field.name, columns[k]?.values() ?? new Int32Array(0)])),
    inOrder: Int32Array.from(fields, (_, k) => k),
  };
}
