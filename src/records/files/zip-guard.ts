import { inflateRawSync } from 'node:zlib';

/** Bytes of a workbook at most, as the file and unpacked: a bomb of a few kilobytes may unpack to gigabytes. */
export const MOST_PACKED = 64 * 1_048_576;
export const MOST_UNPACKED = 128 * 1_048_576;

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const LONGEST_COMMENT = 65_557;

/**
 * Whether every entry of a ZIP archive, unpacked, fits within `most` bytes together. The sizes that the archive claims
 * are not believed: each entry is unpacked to count it, and let go. Archives that are broken do not fit.
 */
export function unpacksWithin(zip: Buffer, most: number): boolean {
  let at = directoryStart(zip);
  let left = most;
  let entries = 0;
  while (at !== undefined && at + 46 <= zip.length && zip.readUInt32LE(at) === ENTRY) {
    const method = zip.readUInt16LE(at + 10);
    const packed = zip.readUInt32LE(at + 20);
    const local = zip.readUInt32LE(at + 42);
    if (local + 30 > zip.length) return false;
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const size = unpackedSize(zip.subarray(start, start + packed), method, left);
    if (size === undefined || size > left) return false;
    left -= size;
    entries++;
    at += 46 + zip.readUInt16LE(at + 28) + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return entries > 0;
}

function directoryStart(zip: Buffer): number | undefined {
  for (let at = zip.length - 22; at >= Math.max(0, zip.length - LONGEST_COMMENT); at--) {
    if (zip.readUInt32LE(at) === END) return zip.readUInt32LE(at + 16);
  }
  return undefined;
}

function unpackedSize(bytes: Buffer, method: number, most: number): number | undefined {
  if (method === 0) return bytes.length;
  if (method !== 8) return undefined;
  try {
    return inflateRawSync(bytes, { maxOutputLength: Math.max(1, most) }).length;
  } catch {
    return undefined;
  }
}
