/** A stretch of one line of a file, with its line end if it reaches that far. */
export interface LinePart {
  /** Number of the line, from 1. */
  readonly line: number;
  readonly bytes: Uint8Array;
}

const LF = 10;
const CR = 13;

/**
 * Splits chunks of bytes into lines ended by LF, CR LF or CR, without holding more than a chunk: a long line comes in
 * several stretches.
 */
export async function* linesOf(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<LinePart> {
  let line = 1;
  let afterCr = false;
  for await (const chunk of chunks) {
    let start = 0;
    for (let i = 0; i < chunk.length; i++) {
      const byte = chunk[i];
      if (afterCr && byte === LF) {
        // The line feed of a CR LF belongs to the line before.
        yield { line: line - 1, bytes: chunk.subarray(start, i + 1) };
        start = i + 1;
        afterCr = false;
        continue;
      }
      afterCr = byte === CR;
      if (byte !== LF && byte !== CR) continue;
      if (byte === CR && chunk[i + 1] === LF) i++;
      yield { line, bytes: chunk.subarray(start, i + 1) };
      afterCr = byte === CR && chunk[i] === CR;
      start = i + 1;
      line++;
    }
    if (start < chunk.length) yield { line, bytes: chunk.subarray(start) };
  }
}
