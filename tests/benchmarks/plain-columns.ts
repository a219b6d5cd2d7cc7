import { closeSync, openSync, readSync } from 'node:fs';

const comma = 44;
const lineFeed = 10;
const quote = 34;
const powers = Float64Array.from({ length: 16 }, (_, k) => 10 ** k);

export interface PlainColumns {
  readonly numbers: Readonly<Record<string, Float64Array>>;
  readonly labels: Readonly<Record<string, string[]>>;
}

/**
 * Reads plain CSV (a header, commas, no quotes, ASCII) straight from its bytes into typed columns, without a
 * string a field: the way for a file that a program wrote. Fields named in `labels` are kept as text, the others
 * must be numbers.
 */
export function readPlainColumns(path: string, labels: readonly string[]): PlainColumns {
  const file = openSync(path, 'r');
  const buffer = Buffer.alloc(1 << 22);
  let held = readSync(file, buffer, 0, buffer.length, null);
  const headerEnd = buffer.indexOf(lineFeed);
  const names = buffer.toString('latin1', 0, headerEnd).trimEnd().split(',');
  const isLabel = names.map(name => labels.includes(name));
  let size = 1 << 16;
  let columns = names.map((_, j) => new Float64Array(isLabel[j] === true ? 0 : size));
  const texts = names.map((): string[] => []);
  let n = 0;
  let at = headerEnd + 1;
  while (held > 0) {
    // Whole lines only; the rest of the last one is moved to the front for the next round.
    const end = buffer.lastIndexOf(lineFeed, held - 1) + 1;
    while (at < end) {
      if (n === size) {
        size *= 2;
        columns = columns.map(column => longer(column, size));
      }
      for (let j = 0; j < names.length; j++) {
        const start = at;
        for (
          let byte = buffer[at] as number;
          byte !== comma && byte !== lineFeed;
          byte = buffer[++at] as number
        ) {
          if (byte === quote) throw new Error(`${path}, row ${n + 1}: a quoted field is not plain CSV`);
        }
        const last = buffer[at] === lineFeed;
        if (last !== (j === names.length - 1)) {
          throw new Error(`${path}, row ${n + 1} has not ${names.length} fields`);
        }
        if (isLabel[j] === true) texts[j]?.push(buffer.toString('latin1', start, at));
        else (columns[j] as Float64Array)[n] = numberAt(buffer, start, at);
        at++;
      }
      n++;
    }
    buffer.copyWithin(0, end, held);
    const rest = held - end;
    const read = readSync(file, buffer, rest, buffer.length - rest, null);
    if (read === 0 && rest > 0) throw new Error(`${path} does not end with a line feed`);
    held = read === 0 ? 0 : rest + read;
    at = 0;
  }
  closeSync(file);
  return {
    numbers: Object.fromEntries(
      names.flatMap((name, j) =>
        isLabel[j] === true ? [] : [[name, (columns[j] as Float64Array).subarray(0, n)]],
      ),
    ),
    labels: Object.fromEntries(
      names.flatMap((name, j) => (isLabel[j] === true ? [[name, texts[j] ?? []]] : [])),
    ),
  };
}

/** Up to 15 digits divided by a power of 10 are rounded once, and so exactly; anything else goes through text. */
function numberAt(buffer: Buffer, start: number, end: number): number {
  const negative = buffer[start] === 45;
  let digits = 0;
  let value = 0;
  let point = end;
  for (let i = negative ? start + 1 : start; i < end; i++) {
    const byte = buffer[i] as number;
    if (byte >= 48 && byte <= 57) {
      value = 10 * value + (byte - 48);
      digits++;
    } else if (byte === 46 && point === end) point = i;
    else digits = 16;
  }
  if (digits === 0 || digits > 15) return Number(buffer.toString('latin1', start, end));
  const size = point === end ? value : value / (powers[end - point - 1] as number);
  return negative ? -size : size;
}

function longer(column: Float64Array<ArrayBuffer>, size: number): Float64Array<ArrayBuffer> {
  if (column.length === 0) return column;
  const copy = new Float64Array(size);
  copy.set(column);
  return copy;
}
