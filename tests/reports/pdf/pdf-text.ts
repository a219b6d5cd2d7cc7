import { inflateSync } from 'node:zlib';

/** The objects of a PDF as text, with what is packed unpacked; for tests of its structure. */
export function pdfObjects(pdf: Uint8Array): string {
  const raw = Buffer.from(pdf).toString('latin1');
  const unpacked = [...raw.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)].map(([, packed = '']) => {
    try {
      return inflateSync(Buffer.from(packed, 'latin1')).toString('latin1');
    } catch {
      return packed;
    }
  });
  return [raw, ...unpacked].join('\n');
}

/** The titles of the bookmarks, in the order in which they are written. */
export function bookmarks(objects: string): readonly string[] {
  return [...objects.matchAll(/\/Title\s*(?:\(((?:\\[\s\S]|[^\\)])*)\)|<([0-9A-Fa-f]*)>)/g)].map(
    ([, plain, hex]) => (hex === undefined ? unescaped(plain ?? '') : utf16(Buffer.from(hex, 'hex'))),
  );
}

function unescaped(text: string): string {
  const bytes = Buffer.from(
    text.replace(/\\(\d{3}|[\s\S])/g, (_, code: string) => {
      const named: Readonly<Record<string, string>> = { n: '\n', r: '\r', t: '\t', b: '\b', f: '\f' };
      return /^\d{3}$/.test(code) ? String.fromCharCode(Number.parseInt(code, 8)) : (named[code] ?? code);
    }),
    'latin1',
  );
  return bytes[0] === 0xfe && bytes[1] === 0xff ? utf16(bytes) : bytes.toString('latin1');
}

function utf16(bytes: Buffer): string {
  return Buffer.from(bytes.subarray(2)).swap16().toString('utf16le');
}
