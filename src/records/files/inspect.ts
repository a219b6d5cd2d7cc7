import { isUtf8 } from 'node:buffer';
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { lstat } from 'node:fs/promises';

export const CHUNK = 262_144;

export type Encoding = 'utf-8' | 'utf-16' | 'windows-1252';

export interface Inspected {
  readonly sha256: string;
  /** The bytes are text in the encoding. */
  readonly readable: boolean;
  /** What `TextDecoder` calls the encoding. */
  readonly decoder: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  /** The beginning of the file. */
  readonly head: string;
}

/** What stands at a path: a link is never followed. */
export async function kindOfEntry(path: string): Promise<'file' | 'link' | 'other'> {
  const entry = await lstat(path).catch(() => undefined);
  if (entry?.isSymbolicLink() === true) return 'link';
  return entry?.isFile() === true ? 'file' : 'other';
}

/**
 * Goes once through the bytes of a file: their hash, and whether they are text in the encoding. UTF-16 needs its byte
 * order mark; a NUL character is no text in any of them.
 */
export async function inspect(path: string, encoding: Encoding = 'utf-8'): Promise<Inspected> {
  const hash = createHash('sha256');
  let first: Buffer | undefined;
  let readable = true;
  let rest: Buffer = Buffer.alloc(0);
  for await (const chunk of createReadStream(path, { highWaterMark: CHUNK }) as AsyncIterable<Buffer>) {
    hash.update(chunk);
    first ??= chunk;
    if (!readable) continue;
    if (encoding !== 'utf-8') readable = encoding === 'utf-16' || !chunk.includes(0);
    else {
      const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
      const whole = wholeCharacters(bytes);
      readable = isUtf8(bytes.subarray(0, whole)) && !chunk.includes(0);
      rest = bytes.subarray(whole);
    }
  }
  const start = first ?? Buffer.alloc(0);
  const decoder = decoderOf(encoding, start);
  return {
    sha256: hash.digest('hex'),
    readable: decoder !== undefined && readable && isUtf8(rest),
    decoder: decoder ?? 'utf-8',
    head: decoder === undefined ? '' : new TextDecoder(decoder).decode(start),
  };
}

function decoderOf(encoding: Encoding, start: Buffer): Inspected['decoder'] | undefined {
  if (encoding !== 'utf-16') return encoding;
  if (start[0] === 0xff && start[1] === 0xfe) return 'utf-16le';
  if (start[0] === 0xfe && start[1] === 0xff) return 'utf-16be';
  return start.length === 0 ? 'utf-16le' : undefined;
}

/** Bytes up to the last character, where that one is not whole yet. */
function wholeCharacters(bytes: Buffer): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back] ?? 0;
    if (byte >= 0xc0) return bytes.length - back;
    if (byte < 0x80) break;
  }
  return bytes.length;
}
