import { createReadStream, createWriteStream, existsSync, mkdirSync, renameSync } from 'node:fs';
import { once } from 'node:events';
import { pipeline } from 'node:stream/promises';
import { parse } from 'csv-parse';
import { type RandomStream, randomStream } from '../../src/statistics/index.ts';

/** Columns of a benchmark file. */
export interface BenchmarkColumns {
  readonly time: Float64Array;
  readonly status: Uint8Array;
  readonly cause: Uint8Array;
  readonly group: string[];
  readonly infant: Int32Array;
  readonly covariates: Readonly<Record<'x1' | 'x2' | 'x3' | 'x4' | 'x5', Float64Array>>;
}

export const folder = 'out/bench';

/** Path of the file with that many rows, written first if it is not there. */
export async function benchmarkFile(rows: number): Promise<string> {
  const path = `${folder}/rows-${rows}.csv`;
  if (existsSync(path)) return path;
  mkdirSync(folder, { recursive: true });
  const stream = createWriteStream(`${path}.part`);
  stream.write('id,infant,time,status,cause,group,x1,x2,x3,x4,x5\n');
  const random = randomStream(42);
  let lines: string[] = [];
  let infant = 0;
  let feet = 0;
  for (let i = 0; i < rows; i++) {
    // An infant has a second foot in the file with probability one half.
    if (feet !== 1 || random.below(2) === 0) {
      infant += 1;
      feet = 0;
    }
    feet += 1;
    lines.push(`${i + 1},${infant},${simulatedRow(random)}`);
    if (lines.length < 5000 && i < rows - 1) continue;
    if (!stream.write(`${lines.join('\n')}\n`)) await once(stream, 'drain');
    lines = [];
  }
  stream.end();
  await once(stream, 'finish');
  renameSync(`${path}.part`, path);
  return path;
}

/**
 * Whole days to an event or to censoring, both exponential with rates in the ratio 7 to 3, so that 30 % of the
 * rows are censored whatever the covariates; of the events 40 % have cause 2.
 */
function simulatedRow(random: RandomStream): string {
  const x1 = random.normal();
  const x2 = random.normal();
  const x3 = random.below(2);
  const x4 = random.uniform();
  const x5 = random.uniform() < 0.2 ? 1 : 0;
  const group = random.below(3);
  const linear = 0.3 * x1 - 0.2 * x2 + 0.4 * x3 + 0.1 * x4 + 0.5 * x5 + (group === 1 ? 0.1 : group * 0.125);
  const mean = 400 * Math.exp(-linear);
  const event = random.exponential() * mean;
  const censored = (random.exponential() * mean * 7) / 3;
  const time = Math.max(1, Math.round(Math.min(event, censored)));
  const status = event <= censored ? 1 : 0;
  const cause = status === 0 ? 0 : random.uniform() < 0.4 ? 2 : 1;
  return `${time},${status},${cause},${'abc'[group]},${x1.toFixed(4)},${x2.toFixed(4)},${x3},${x4.toFixed(4)},${x5}`;
}

/** Reads a benchmark file into typed columns. */
export async function readColumns(path: string): Promise<BenchmarkColumns> {
  let size = 1 << 16;
  let n = 0;
  const names = ['infant', 'time', 'status', 'cause', 'x1', 'x2', 'x3', 'x4', 'x5'];
  const places = [1, 2, 3, 4, 6, 7, 8, 9, 10];
  let columns = names.map(() => new Float64Array(size));
  const group: string[] = [];
  const store = (row: string[]): void => {
    if (n === size) {
      size *= 2;
      columns = columns.map(column => {
        const longer = new Float64Array(size);
        longer.set(column);
        return longer;
      });
    }
    for (let j = 0; j < places.length; j++) {
      (columns[j] as Float64Array)[n] = Number(row[places[j] as number]);
    }
    group.push(row[5] as string);
    n += 1;
  };
  const parser = parse({ from_line: 2 });
  parser.on('readable', () => {
    for (let row = parser.read() as string[] | null; row !== null; row = parser.read() as string[] | null) {
      store(row);
    }
  });
  await pipeline(createReadStream(path, { highWaterMark: 1 << 20 }), parser);
  const [infant, time, status, cause, x1, x2, x3, x4, x5] = columns.map(column => column.subarray(0, n));
  if (!infant || !time || !status || !cause || !x1 || !x2 || !x3 || !x4 || !x5) {
    throw new Error(`${path} lacks a column`);
  }
  return {
    time,
    status: Uint8Array.from(status),
    cause: Uint8Array.from(cause),
    group,
    infant: Int32Array.from(infant),
    covariates: { x1, x2, x3, x4, x5 },
  };
}
