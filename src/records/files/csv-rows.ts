import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { pipeline, Transform } from 'node:stream';
import { CsvError, parse } from 'csv-parse';
import { changedWhileRead } from '../problems/files.ts';
import { csvOptions } from '../reading/csv-options.ts';
import { UnusableExport } from '../unusable-export.ts';
import type { Inspected } from './inspect.ts';
import { CHUNK } from './inspect.ts';
import { wholeLines } from './whole-lines.ts';

/** Why the rest of a file cannot be read. */
export type Broken = 'quote' | 'length';

/**
 * Calls back for every row of a file of separated values, blank ones included, with its cells as text. Gives the reason
 * if the file cannot be read to its end.
 *
 * @param label the file as problems name it
 * @throws UnusableExport if the bytes are not those that were inspected
 */
export async function csvRows(
  path: string,
  { sha256, decoder }: Inspected,
  delimiter: string,
  label: string,
  onRow: (cells: string[]) => void,
): Promise<Broken | undefined> {
  const hash = createHash('sha256');
  const source = createReadStream(path, { highWaterMark: CHUNK });
  source.on('data', chunk => void hash.update(chunk));
  const parser = parse(csvOptions(delimiter));
  // An error of any of the streams ends the others, and reaches the loop through the parser.
  const ended = (): void => {};
  const lines = wholeLines();
  if (decoder === 'utf-8') pipeline(source, lines, parser, ended);
  else pipeline(source, lines, toUtf8(decoder), parser, ended);
  try {
    for await (const cells of parser as AsyncIterable<string[]>) onRow(cells);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return lines.tooLong() || error.code === 'CSV_MAX_RECORD_SIZE' ? 'length' : 'quote';
  } finally {
    source.destroy();
  }
  if (hash.digest('hex') !== sha256) throw new UnusableExport([changedWhileRead(label)]);
  return lines.tooLong() ? 'length' : undefined;
}

function toUtf8(encoding: Inspected['decoder']): Transform {
  const decoder = new TextDecoder(encoding);
  return new Transform({
    transform: (chunk: Buffer, _, done) => done(null, decoder.decode(chunk, { stream: true })),
    flush: done => done(null, decoder.decode()),
  });
}
