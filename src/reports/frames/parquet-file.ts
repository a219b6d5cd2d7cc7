import { parquetWriteBuffer } from 'hyparquet-writer';
import type { FrameColumn } from '../../cohort/frame-column.ts';
import type { ReadColumn } from './frame-table.ts';

/** The parts of a Parquet schema that a frame needs; the format names them so. */
interface ParquetType {
  readonly type: 'BYTE_ARRAY' | 'INT32' | 'DOUBLE' | 'BOOLEAN';
  readonly converted_type?: 'UTF8' | 'DATE';
}

/**
 * A frame as a Parquet file, Snappy-compressed. Texts are UTF-8 (an ordered category is its word), whole numbers 32 bits,
 * numbers 64-bit floats, yes/no booleans, dates days without a time zone; a missing value is null. Every column may hold
 * nulls, so that files of different exports can be stacked. The same frame gives the same bytes: nothing of the day or
 * the machine is written.
 */
export function parquetFile(columns: readonly ReadColumn[], createdBy: string): Uint8Array {
  return new Uint8Array(
    parquetWriteBuffer({
      columnData: columns.map(({ name, values }) => ({ name, data: values.map(value => value ?? null) })),
      schema: [
        { name: 'root', num_children: columns.length },
        ...columns.map(({ name, type }) => ({
          name,
          repetition_type: 'OPTIONAL' as const,
          ...parquetType(type),
        })),
      ],
      createdBy,
    }),
  );
}

function parquetType(type: FrameColumn['type']): ParquetType {
  switch (type) {
    case 'text':
      return { type: 'BYTE_ARRAY', converted_type: 'UTF8' };
    case 'integer':
      return { type: 'INT32' };
    case 'number':
      return { type: 'DOUBLE' };
    case 'yes/no':
      return { type: 'BOOLEAN' };
    default:
      return { type: 'INT32', converted_type: 'DATE' };
  }
}
