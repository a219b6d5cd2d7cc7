import { Transform } from 'node:stream';
import { LONGEST_ROW } from '../reading/csv-options.ts';

const LF = 10;
const CR = 13;

/**
 * Passes bytes on line by line, the last one at the end, up to the first line that is longer than a row may be: from
 * there on nothing is passed on. A parser that came to see such a line would hold a cell for every separator in it.
 */
export function wholeLines(): Transform & { tooLong(): boolean } {
  let held: Buffer[] = [];
  let size = 0;
  let tooLong = false;
  const stream = new Transform({
    transform(chunk: Buffer, _, done) {
      if (tooLong) {
        done();
        return;
      }
      const first = firstEnd(chunk);
      if (size + (first === -1 ? chunk.length : first) > LONGEST_ROW) {
        tooLong = true;
        held = [];
        done();
        return;
      }
      const last = Math.max(chunk.lastIndexOf(LF), chunk.lastIndexOf(CR));
      if (last === -1) {
        held.push(chunk);
        size += chunk.length;
        done();
        return;
      }
      const whole = Buffer.concat([...held, chunk.subarray(0, last + 1)]);
      held = [chunk.subarray(last + 1)];
      size = chunk.length - last - 1;
      done(null, whole);
    },
    flush(done) {
      done(null, tooLong ? undefined : Buffer.concat(held));
    },
  });
  return Object.assign(stream, { tooLong: () => tooLong });
}

function firstEnd(chunk: Buffer): number {
  const [lf, cr] = [chunk.indexOf(LF), chunk.indexOf(CR)];
  if (lf === -1 || cr === -1) return Math.max(lf, cr);
  return Math.min(lf, cr);
}
