import { bool, dateDay, float64, int32, tableFromArrays, tableToIPC, utf8 } from '@uwdata/flechette';
import type { FrameColumn } from '../../cohort/frame-column.ts';
import type { ReadColumn } from './frame-table.ts';

const MILLISECONDS_OF_A_DAY = 86_400_000;

/**
 * A frame as an Arrow IPC file (also known as Feather, version 2), uncompressed. Texts are UTF-8, whole numbers 32 bits,
 * numbers 64-bit floats, yes/no booleans, dates days without a time zone; a missing value is null.
 */
export function arrowFile(columns: readonly ReadColumn[]): Uint8Array {
  const arrays = columns.map(({ name, type, values }): [string, unknown[]] => [
    name,
    type === 'date'
      ? values.map(value => (typeof value === 'number' ? value * MILLISECONDS_OF_A_DAY : undefined))
      : [...values],
  ]);
  const types = Object.fromEntries(columns.map(column => [column.name, arrowType(column.type)]));
  const bytes = tableToIPC(tableFromArrays(arrays, { types }), { format: 'file' });
  if (bytes === null) throw new TypeError('the frame could not be written as Arrow');
  return bytes;
}

function arrowType(type: FrameColumn['type']) {
  switch (type) {
    case 'text':
      return utf8();
    case 'integer':
      return int32();
    case 'number':
      return float64();
    case 'yes/no':
      return bool();
    default:
      return dateDay();
  }
}
